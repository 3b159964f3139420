#pragma once

#include <memory>

#include "platform/gl_loader.hpp"

namespace bandwright::platform {

/// An OpenGL 4.1 core context that draws nowhere: made current, and released at the end. EGL without a
/// surface needs no display; a hidden window is the second choice. Throws std::runtime_error when there is
/// neither. Another platform must provide: a context of OpenGL 4.1 or what stands in for it, and the loader
/// of its functions; the renderer needs no more.
class OffscreenContext {
  public:
    struct Options {
        bool debug = false;  ///< let the driver report each wrong call
    };
    explicit OffscreenContext(const Options& options);
    OffscreenContext() : OffscreenContext(Options{}) {}
    ~OffscreenContext();
    OffscreenContext(const OffscreenContext&) = delete;
    OffscreenContext& operator=(const OffscreenContext&) = delete;

    GlLoader loader() const;

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace bandwright::platform
