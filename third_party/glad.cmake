# The OpenGL loader, generated from the registry that comes with glad.
find_program(GLAD_PYTHON python3 PATHS /usr/bin NO_DEFAULT_PATH REQUIRED)
set(glad_folder ${CMAKE_CURRENT_BINARY_DIR}/glad)
add_custom_command(
    OUTPUT ${glad_folder}/src/gl.c ${glad_folder}/include/glad/gl.h
    COMMAND ${GLAD_PYTHON} -m glad --quiet --reproducible --api gl:core=4.1 --extensions GL_KHR_debug
            --out-path ${glad_folder} c
    COMMENT "Generating the OpenGL loader")
add_library(glad STATIC ${glad_folder}/src/gl.c)
target_include_directories(glad SYSTEM PUBLIC ${glad_folder}/include)
