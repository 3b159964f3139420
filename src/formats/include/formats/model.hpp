#pragma once

#include <filesystem>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "design/design.hpp"
#include "geometry/boundary.hpp"
#include "geometry/part.hpp"
#include "geometry/ring.hpp"
#include "scene/unwrap.hpp"
#include "trade/catalogue.hpp"

/// The ring as a file for another machine or program.
namespace bandwright::formats {

/// The bytes of a PNG file: a texture of a body laid flat, of a ring with this extent (render/bake.hpp).
using DrawTexture =
    std::function<std::string(const scene::Body&, const scene::Extent&, scene::Size, scene::Texture)>;

struct ModelOptions {
    design::Stage stage = design::Stage::Finished;
    geometry::BuildOptions build{};  ///< of formats made of triangles
    /// Names ("band", "stone-2") or roles ("stone") of the parts to write; empty = all.
    std::vector<std::string> parts{};
    double factor = 1;     ///< by which all lengths are multiplied, as for a casting that shrinks
    bool oneBody = false;  ///< all parts as one nameless body
    /// Told now and then which share is written, 0..1, as the work goes on; what it throws ends the writing.
    std::function<void(double)> progress{};
    /// Of patterns, for formats that hold textures; without it they get the mean colour.
    DrawTexture texture{};
};

/// One format of the table.
struct ModelFormat {
    std::string_view ending;  ///< ".stl"
    std::string_view name;
    std::string_view holds;  ///< what a person should know before choosing it
    bool oneBody = false;    ///< whether it can be asked for one body
};

/// In the order in which they are listed to people.
std::span<const ModelFormat> modelFormats();

/// The format of a file's ending, whatever its case. Throws InputError with the endings that are known.
const ModelFormat& modelFormat(const std::filesystem::path& file);

/// Writes the ring in the format of the file's ending and returns the files written: an OBJ has its materials
/// beside it, and an STL, which holds one body, is a file for each part, NAME-band.stl, where several are
/// chosen. Each file is replaced whole or not at all, and whenever the program is killed, those that are
/// there belong together: an OBJ finds all its materials, and STL files are of one ring, though some may be
/// missing. The same ring gives the same bytes, as far as its textures do. Throws InputError when a part is
/// not there, a material is not in the catalogue, or a file cannot be written.
std::vector<std::filesystem::path> writeModel(const design::Design& design, const trade::Catalogue& catalogue,
                                              const ModelOptions& options, const std::filesystem::path& file);

/// Files beside an STL set just written that bear the names of parts it does not have, in order of their
/// names: what is left of a ring with more parts, and would be taken for some of this one's.
std::vector<std::filesystem::path> leftOfAnotherSet(const std::filesystem::path& file,
                                                    const std::vector<std::filesystem::path>& written);

/// The chosen parts at the stage with their meshes, and as exact faces in the design's own size; in the same
/// order. Throw InputError when a part is not there.
std::vector<geometry::Part> chosenParts(const design::Design& design, const ModelOptions& options);
std::vector<geometry::Boundary> chosenBoundaries(const design::Design& design, const ModelOptions& options);

/// How much larger a pattern must be than the cast metal once it is cold: what the solid shrinks from where
/// it begins to melt down to 20 degrees C.
struct CastingShrink {
    double factor = 1;
    std::string source;  ///< of the two figures it is worked out from
};
/// Throws InputError where the catalogue lacks a figure for this metal, or it is not cast.
CastingShrink castingShrink(const trade::Metal& metal);

}  // namespace bandwright::formats
