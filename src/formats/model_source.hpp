#pragma once

#include <algorithm>
#include <array>
#include <filesystem>
#include <string>
#include <vector>

#include "file_writer.hpp"
#include "formats/model.hpp"
#include "geometry/boundary.hpp"

/// What every writer of the table is handed. Private to the room.
namespace bandwright::formats {

struct ModelSource {
    const design::Design& design;
    const trade::Catalogue& catalogue;
    const ModelOptions& options;

    /// The chosen parts with their meshes, enlarged as asked.
    std::vector<geometry::Part> parts() const;
    /// The chosen parts as exact faces, in the design's own size.
    std::vector<geometry::Boundary> boundaries() const;
};

/// Tells the caller how far a writer has come.
class Share {
  public:
    Share(const ModelOptions& options, std::size_t whole) : options_(options), whole_(whole) {}
    /// Steps of about a hundredth are passed on.
    void step(std::size_t done) {
        done_ += done;
        if (!options_.progress || done_ < next_) return;
        options_.progress(static_cast<double>(done_) / static_cast<double>(std::max<std::size_t>(whole_, 1)));
        next_ = done_ + whole_ / 100 + 1;
    }

  private:
    const ModelOptions& options_;
    std::size_t whole_, done_ = 0, next_ = 0;
};

std::size_t trianglesOf(const std::vector<geometry::Part>& parts);

/// As files name a part's material: "gem-emerald".
std::string materialId(const geometry::Part& part);

/// A material as files name and show it.
struct PartMaterial {
    std::string id;    ///< "gem-emerald"
    std::string name;  ///< "Emerald"
    trade::LinearRgb colour{};
    double density = 0;  ///< g/cm3; of a filler that of its grains
    const trade::Metal* metal = nullptr;
    const trade::Filler* filler = nullptr;
    const trade::Gem* gem = nullptr;  ///< one of the three is there
};

/// Throws InputError when it is not in the catalogue.
PartMaterial materialOf(const geometry::Part& part, const trade::Catalogue& catalogue);

/// As sRGB, 0..255.
std::array<unsigned char, 3> bytesOf(const trade::LinearRgb& colour);

using Written = std::vector<std::filesystem::path>;
Written writeStl(const ModelSource& source, const std::filesystem::path& file);
Written writePly(const ModelSource& source, const std::filesystem::path& file);
Written writeThreeMf(const ModelSource& source, const std::filesystem::path& file);
Written writeObj(const ModelSource& source, const std::filesystem::path& file);
Written writeGlb(const ModelSource& source, const std::filesystem::path& file);
Written writeStep(const ModelSource& source, const std::filesystem::path& file);

}  // namespace bandwright::formats
