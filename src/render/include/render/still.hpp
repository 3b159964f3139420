#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "render/image.hpp"
#include "scene/scene.hpp"

/// Pictures to keep: large stills of one view or several, turntables. No display is needed. All throw
/// std::runtime_error when there is no OpenGL, InputError when the file cannot be written; the file is either
/// the old or the whole new one.
namespace bandwright::render {

/// One view of a still.
struct Panel {
    scene::Scene scene;
    int x = 0, y = 0;  ///< pixels from the still's top left corner
    scene::Size size;
};

struct Still {
    scene::Size size;
    std::vector<Panel> panels;  ///< they do not overlap; the rest stays transparent
    double dotsPerInch = 0;     ///< at which to show it, stored in the file; 0 = not stored
};

/// The scenes side by side in rows as even as possible, each of the given size.
Still stillOf(std::vector<scene::Scene> scenes, scene::Size each);

class Renderer;

/// A still on its way to the bytes of a PNG file, a pass of one tile at a time, for whoever draws other
/// things in between. The memory needed grows with its width alone.
class StillPainting {
  public:
    /// `bytes` is given the file as it comes; what it throws, advance() throws.
    StillPainting(Still still, const std::function<void(std::string_view)>& bytes);
    ~StillPainting();
    StillPainting(StillPainting&&) noexcept;
    StillPainting& operator=(StillPainting&&) noexcept;

    /// Draws on; true when all is drawn and given. Always with the same renderer.
    bool advance(Renderer& renderer);
    /// How much of it is drawn, 0..1.
    double share() const;

  private:
    struct State;
    std::unique_ptr<State> state_;
};

/// Called with the finished share, 0..1.
using ProgressReport = std::function<void(double)>;

/// Draws it in tiles and writes it as PNG, band by band: the memory needed grows with its width alone.
void writeStill(const Still& still, const std::filesystem::path& file, const ProgressReport& progress = {});

/// The same as the bytes of a PNG file, for one that is small enough to be held in memory.
std::string stillPng(const Still& still, const ProgressReport& progress = {});

/// A picture as the bytes of a WebP file, for a page: a tenth of the PNG's. Quality of WebP, 0..100.
std::string webpOf(const Image& image, float quality);

struct Turntable {
    int frames = 72;        ///< one whole turn
    int milliseconds = 50;  ///< for each frame
    float quality = 85;     ///< of WebP, 0..100
};

/// A turntable on its way to the bytes of a WebP file, a pass of one picture at a time, for whoever draws
/// other things in between; pictures are encoded beside that.
class TurntablePainting {
  public:
    TurntablePainting(scene::Scene scene, scene::Size size, const Turntable& turntable);
    ~TurntablePainting();
    TurntablePainting(TurntablePainting&&) noexcept;
    TurntablePainting& operator=(TurntablePainting&&) noexcept;

    /// Draws on; true when all is drawn and encoded. Always with the same renderer.
    bool advance(Renderer& renderer);
    /// How much of it is drawn, 0..1.
    double share() const;
    /// The whole file, once it is there; once.
    std::string take();

  private:
    struct State;
    std::unique_ptr<State> state_;
};

/// One turn of the ring as an endlessly repeating animated WebP.
void writeTurntable(TurntablePainting painting, const std::filesystem::path& file,
                    const ProgressReport& progress = {});

}  // namespace bandwright::render
