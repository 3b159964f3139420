// The ring of a client's page, drawn in a browser: no window, no files, only the picture and what turns it.
#include <emscripten/emscripten.h>
#include <emscripten/html5.h>

#include <GLES3/gl3.h>

#include <exception>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>

#include "design_source.hpp"
#include "geometry/measured.hpp"
#include "page_mark.hpp"
#include "picture.hpp"
#include "render/renderer.hpp"
#include "trade/catalogue.hpp"

// What web/library.js provides.
extern "C" void bandwright_ended(const char* why);

namespace bandwright::app {

namespace {

struct Viewer {
    scene::Scene scene;
    render::Renderer renderer{nullptr};
    unsigned from = 0;  ///< the framebuffer that the picture is copied out of
};

std::unique_ptr<Viewer> viewer;

/// What goes wrong is said in the page, which then shows its still picture.
template <class Work>
int guarded(Work work) {
    try {
        return work();
    } catch (const std::exception& error) {
        bandwright_ended(error.what());
        return -1;
    }
}

}  // namespace

}  // namespace bandwright::app

extern "C" {

/// Whether the text is that of the mark.
EMSCRIPTEN_KEEPALIVE int viewer_knows(const char* text, const char* mark) {
    return bandwright::app::pageMark(text) == mark ? 1 : 0;
}

/// Reads the design of this file, with the materials of that one (empty = none), and makes the context of the
/// canvas "#ring". -1 where that is not possible.
EMSCRIPTEN_KEEPALIVE int viewer_begin(const char* file, const char* materials) {
    using namespace bandwright;
    return app::guarded([&] {
        const trade::Catalogue catalogue =
            *materials == '\0' ? trade::builtInCatalogue()
                               : trade::extendedCatalogue(trade::builtInCatalogue(), materials);
        const design::Design design = app::designIn(file, formats::Outside::Refused);
        scene::Scene scene = app::sceneOf(geometry::asMeasured(design), catalogue, "corner");
        EmscriptenWebGLContextAttributes wanted;
        emscripten_webgl_init_context_attributes(&wanted);
        wanted.majorVersion = 2;
        wanted.alpha = EM_FALSE;
        wanted.antialias = EM_FALSE;
        wanted.depth = EM_FALSE;
        const EMSCRIPTEN_WEBGL_CONTEXT_HANDLE context = emscripten_webgl_create_context("#ring", &wanted);
        if (context <= 0) throw std::runtime_error("This browser does not offer WebGL 2.");
        emscripten_webgl_make_context_current(context);
        app::viewer = std::make_unique<app::Viewer>();
        app::viewer->scene = std::move(scene);
        glGenFramebuffers(1, &app::viewer->from);
        return 0;
    });
}

/// Where the eye is at first: 0 the azimuth, 1 the elevation, degrees.
EMSCRIPTEN_KEEPALIVE double viewer_first(int which) {
    const bandwright::scene::Camera& camera = bandwright::app::viewer->scene.view.camera;
    return which == 0 ? camera.azimuth : camera.elevation;
}

/// Draws the ring as seen from there, as large as the canvas; with the lights out, so many minutes after. 1
/// when drawing it again would leave it as it is.
EMSCRIPTEN_KEEPALIVE int viewer_draw(double azimuth, double elevation, double zoom, int dark, double minutes,
                                     int width, int height, int moving) {
    using namespace bandwright;
    return app::guarded([&] {
        app::Viewer& now = *app::viewer;
        scene::View& view = now.scene.view;
        view.camera.azimuth = azimuth;
        view.camera.elevation = elevation;
        view.camera.zoom = zoom;
        view.lightsOut = dark != 0;
        view.minutesDark = minutes;
        const scene::Size size{width, height};
        const unsigned picture = now.renderer.draw(
            now.scene, size, moving != 0 ? render::Quality::Moving : render::Quality::Still);
        glBindFramebuffer(GL_READ_FRAMEBUFFER, now.from);
        glFramebufferTexture2D(GL_READ_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, picture, 0);
        const scene::Size drawn = now.renderer.pictureSize();
        glBindFramebuffer(GL_DRAW_FRAMEBUFFER, 0);
        glBlitFramebuffer(0, 0, drawn.width, drawn.height, 0, 0, width, height, GL_COLOR_BUFFER_BIT,
                          GL_LINEAR);
        glBindFramebuffer(GL_FRAMEBUFFER, 0);
        return moving == 0 && now.renderer.settled() ? 1 : 0;
    });
}
}

int main() {
    return 0;
}
