# The same libraries for a browser and for Windows, compiled from Debian's sources, which `./dev web` and `./dev windows`
# fetch. What is not here (OpenCASCADE, Cairo and Pango, qpdf; for the browser WebP) the program does without: it says so
# when asked.
set(BANDWRIGHT_SOURCES ${PROJECT_SOURCE_DIR}/build/sources CACHE PATH "Debian's sources, unpacked")
set(headers ${CMAKE_CURRENT_BINARY_DIR}/include)  # of the host's header-only libraries, and of nothing else
file(MAKE_DIRECTORY ${headers})
foreach(header nlohmann CLI tiny_obj_loader.h)
    file(CREATE_LINK /usr/include/${header} ${headers}/${header} SYMBOLIC)
endforeach()

function(header_only name)
    string(MAKE_C_IDENTIFIER ${name} plain)
    add_library(${plain} INTERFACE)
    add_library(${name} ALIAS ${plain})
    target_include_directories(${plain} SYSTEM INTERFACE ${headers})
endfunction()
header_only(nlohmann_json::nlohmann_json)
header_only(CLI11::CLI11)

function(compiled name)
    cmake_parse_arguments(LIB "" "FOLDER" "SOURCES;INCLUDE;PRIVATE;DEFINE;DEPENDS" ${ARGN})
    string(MAKE_C_IDENTIFIER ${name} plain)
    set(files "")
    foreach(pattern IN LISTS LIB_SOURCES)
        file(GLOB found ${BANDWRIGHT_SOURCES}/${LIB_FOLDER}/${pattern})
        list(APPEND files ${found})
    endforeach()
    if(NOT files)
        message(FATAL_ERROR "Debian's source of ${LIB_FOLDER} is not in ${BANDWRIGHT_SOURCES}: ./dev fetches it")
    endif()
    list(TRANSFORM LIB_INCLUDE PREPEND ${BANDWRIGHT_SOURCES}/${LIB_FOLDER}/)
    add_library(${plain} STATIC ${files})
    if(NOT name STREQUAL plain)
        add_library(${name} ALIAS ${plain})
    endif()
    target_include_directories(${plain} SYSTEM PUBLIC ${LIB_INCLUDE} PRIVATE ${LIB_PRIVATE})
    target_compile_definitions(${plain} PRIVATE ${LIB_DEFINE})
    target_compile_options(${plain} PRIVATE -w)
    target_link_libraries(${plain} PUBLIC ${LIB_DEPENDS})
endfunction()

compiled(ZLIB::ZLIB FOLDER zlib SOURCES adler32.c compress.c crc32.c deflate.c inf*.c trees.c uncompr.c zutil.c
    INCLUDE .)
# Of FreeType what reads Inter, whose outlines are those of OpenType's CFF.
file(CONFIGURE OUTPUT ${CMAKE_CURRENT_BINARY_DIR}/freetype/bandwright_modules.h CONTENT "\
FT_USE_MODULE(FT_Module_Class, autofit_module_class)
FT_USE_MODULE(FT_Driver_ClassRec, cff_driver_class)
FT_USE_MODULE(FT_Module_Class, psaux_module_class)
FT_USE_MODULE(FT_Module_Class, psnames_module_class)
FT_USE_MODULE(FT_Module_Class, pshinter_module_class)
FT_USE_MODULE(FT_Module_Class, sfnt_module_class)
FT_USE_MODULE(FT_Renderer_Class, ft_smooth_renderer_class)
")
compiled(PkgConfig::freetype FOLDER freetype
    SOURCES src/autofit/autofit.c src/base/ftbase.c src/base/ftbbox.c src/base/ftbitmap.c src/base/ftdebug.c
            src/base/ftglyph.c src/base/ftinit.c src/base/ftsynth.c src/base/ftsystem.c src/cff/cff.c src/gzip/ftgzip.c src/psaux/psaux.c
            src/psnames/psnames.c src/pshinter/pshinter.c src/sfnt/sfnt.c src/smooth/smooth.c
    INCLUDE include PRIVATE ${CMAKE_CURRENT_BINARY_DIR}/freetype
    DEFINE FT2_BUILD_LIBRARY FT_CONFIG_OPTION_SYSTEM_ZLIB FT_CONFIG_MODULES_H=<bandwright_modules.h> DEPENDS ZLIB::ZLIB)

if(EMSCRIPTEN)
    set(imgui_options DEFINE IMGUI_IMPL_OPENGL_ES3)
endif()
# Text is laid out by FreeType alone, as natively.
compiled(PkgConfig::imgui FOLDER imgui
    SOURCES imgui.cpp imgui_draw.cpp imgui_tables.cpp imgui_widgets.cpp misc/cpp/imgui_stdlib.cpp
            misc/freetype/imgui_freetype.cpp backends/imgui_impl_opengl3.cpp
    INCLUDE . misc/cpp misc/freetype ${imgui_options} DEPENDS PkgConfig::freetype)

file(CONFIGURE OUTPUT ${CMAKE_CURRENT_BINARY_DIR}/tiny_obj_loader.cc CONTENT
    "#define TINYOBJLOADER_IMPLEMENTATION\n#include <tiny_obj_loader.h>\n")
add_library(tinyobjloader STATIC ${CMAKE_CURRENT_BINARY_DIR}/tiny_obj_loader.cc)
add_library(PkgConfig::tinyobjloader ALIAS tinyobjloader)
target_include_directories(tinyobjloader SYSTEM PUBLIC ${headers})
target_compile_definitions(tinyobjloader PUBLIC TINYOBJLOADER_USE_DOUBLE)
target_compile_options(tinyobjloader PRIVATE -w)

if(EMSCRIPTEN)
    return()
endif()

# What writes turntables; libwebp chooses at run time what the processor can do.
compiled(PkgConfig::webp FOLDER libwebp
    SOURCES sharpyuv/*.c src/dec/*.c src/dsp/*.c src/enc/*.c src/utils/*.c INCLUDE . src
    DEFINE WEBP_USE_THREAD)
compiled(PkgConfig::webpmux FOLDER libwebp SOURCES src/mux/*.c INCLUDE . src DEPENDS PkgConfig::webp)

compiled(glfw FOLDER glfw3
    SOURCES src/context.c src/init.c src/input.c src/monitor.c src/vulkan.c src/window.c src/egl_context.c
            src/osmesa_context.c src/wgl_context.c src/win32_*.c
    INCLUDE include PRIVATE ${BANDWRIGHT_SOURCES}/glfw3/src DEFINE _GLFW_WIN32 UNICODE _UNICODE DEPENDS gdi32)
