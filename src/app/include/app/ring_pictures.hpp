#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/stand.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::app {

/// Small pictures of design files for a gallery, by the program's own renderer. Files are read and shapes
/// worked out beside the frames; what is missing is then painted a pass a frame. Each picture is kept in a
/// folder under a name that follows from all that it shows, so that none of an older state is ever taken.
class RingPictures {
  public:
    static constexpr scene::Size kSize{320, 240};
    static constexpr int kColumns = 5;  ///< of the one texture that has them all

    /// `cache` is where they are kept; empty = nowhere.
    explicit RingPictures(std::filesystem::path cache);
    ~RingPictures();
    RingPictures(RingPictures&&) noexcept;
    RingPictures& operator=(RingPictures&&) noexcept;

    /// What is known of one file.
    struct Ring {
        std::filesystem::path file;
        std::string title;     ///< of the design; of the file until it is read
        std::string words;     ///< width and metal
        std::string problem;   ///< why there is no picture; empty = there is one, or it comes
        bool isThere = false;  ///< whether the picture is
        std::string key;       ///< its name in the folder
    };

    /// From now on of these files, in this order, as they are now.
    void show(const std::vector<std::filesystem::path>& files, const trade::Catalogue& catalogue);
    /// One step further; once a frame while the gallery is shown.
    void follow(Painter& painter);
    /// Whether a picture is still to come.
    bool busy() const;

    const std::vector<Ring>& rings() const { return rings_; }
    /// All pictures, kColumns in a row; those not yet there are bare. Null until there is one.
    ImTextureID texture(Painter& painter);
    /// Where a ring's picture lies in the texture, 0..1: left, top, right, bottom.
    std::array<float, 4> within(std::size_t ring) const;

  private:
    struct Work;

    void put(std::size_t ring, const std::vector<std::uint8_t>& rgba);

    std::filesystem::path cache_;
    std::vector<Ring> rings_;
    std::unique_ptr<Work> work_;
    std::vector<std::uint8_t> sheet_;  ///< the texture's pixels
    scene::Size sheetSize_;
    bool isNew_ = false;  ///< whether the texture lacks something of the sheet
    ImTextureID texture_ = nullptr;
};

}  // namespace bandwright::app
