#include "app/ring_pictures.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <deque>
#include <exception>
#include <fstream>
#include <future>
#include <iterator>
#include <system_error>
#include <utility>

#include "base/numbers.hpp"
#include "design/design_file.hpp"
#include "design_source.hpp"
#include "geometry/measured.hpp"
#include "geometry/ring.hpp"
#include "picture.hpp"
#include "platform/atomic_file.hpp"
#include "render/image.hpp"
#include "render/still.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t kMostKept = 200;

std::string bytesOf(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// FNV-1a of 64 bits, in hexadecimal digits.
std::string hashed(std::string_view text) {
    std::uint64_t hash = 14695981039346656037U;
    for (const char c : text) {
        hash ^= static_cast<std::uint8_t>(c);
        hash *= 1099511628211U;
    }
    std::array<char, 17> digits{};
    std::snprintf(digits.data(), digits.size(), "%016llx", static_cast<unsigned long long>(hash));
    return digits.data();
}

void addColour(std::string& text, const trade::LinearRgb& colour) {
    for (const double part : colour)
        text += base::shortestNumber(part) + " ";
}

/// All that the picture of a design shows, as text: the design, the models of its stones, the colours of its
/// metal in this workshop, and the program that paints it.
std::string shownBy(const design::Design& design, const fs::path& folder, const trade::Catalogue& catalogue) {
    std::string text =
        "bandwright " BANDWRIGHT_VERSION " " BANDWRIGHT_DATE "\n" + design::formatDesign(design);
    for (const design::Setting& setting : design.settings)
        if (setting.stone && !setting.stone->model.empty()) text += bytesOf(folder / setting.stone->model);
    if (const trade::Metal* metal = catalogue.metal(design.band.metal)) {
        addColour(text, metal->reflectance);
        addColour(text, metal->reflectance82);
    }
    return text;
}

struct Read {
    RingPictures::Ring ring;
    std::optional<render::Image> image;  ///< the kept one
    design::Design made;                 ///< where there is none
};

Read readRing(const fs::path& file, const fs::path& cache, const trade::Catalogue& catalogue) {
    Read read;
    read.ring.file = file;
    read.ring.title = file.filename().string();
    read.ring.title.resize(read.ring.title.find('.', 1) == std::string::npos ? read.ring.title.size()
                                                                             : read.ring.title.find('.', 1));
    try {
        const design::Design design = designIn(file, formats::Outside::Refused);
        read.ring.title = design.title;
        design::requireMaterials(design, catalogue);
        read.ring.words =
            base::shortestNumber(design.band.width) + " mm, " + catalogue.metal(design.band.metal)->name;
        read.ring.key = hashed(shownBy(design, file.parent_path(), catalogue));
        if (!cache.empty()) read.image = render::imageOf(bytesOf(cache / (read.ring.key + ".png")));
        if (read.image && read.image->size != RingPictures::kSize) read.image.reset();
        if (read.image) return read;
        read.made = geometry::asMeasured(design);
        geometry::requireBuildable(read.made);
    } catch (const std::exception& error) {
        read.ring.problem = error.what();
    }
    return read;
}

/// So that the folder does not grow for ever: the oldest go.
void letOldGo(const fs::path& cache) {
    std::error_code error;
    std::vector<std::pair<fs::file_time_type, fs::path>> kept;
    for (const fs::directory_entry& entry : fs::directory_iterator(cache, error))
        if (entry.path().extension() == ".png") kept.emplace_back(entry.last_write_time(error), entry.path());
    if (kept.size() <= kMostKept) return;
    std::ranges::sort(kept);
    kept.resize(kept.size() - kMostKept);
    for (const auto& [time, file] : kept)
        fs::remove(file, error);
}

void keep(const fs::path& cache, const std::string& key, const std::string& png) {
    if (cache.empty()) return;
    try {
        fs::create_directories(cache);
        platform::writeFileAtomically(cache / (key + ".png"), png);
        letOldGo(cache);
    } catch (const std::exception&) {
        // Then it is painted again another time.
    }
}

}  // namespace

/// What is still to be done, one thing at a time.
struct RingPictures::Work {
    std::future<std::vector<Read>> reading;
    std::deque<std::pair<std::size_t, design::Design>> missing;
    std::future<render::Still> preparing;
    std::string png;
    std::optional<render::StillPainting> painting;
    trade::Catalogue catalogue;
};

RingPictures::RingPictures(fs::path cache) : cache_(std::move(cache)) {}
RingPictures::~RingPictures() = default;
RingPictures::RingPictures(RingPictures&&) noexcept = default;
RingPictures& RingPictures::operator=(RingPictures&&) noexcept = default;

bool RingPictures::busy() const {
    return work_ != nullptr;
}

void RingPictures::show(const std::vector<fs::path>& files, const trade::Catalogue& catalogue) {
    rings_.clear();
    for (const fs::path& file : files) {
        Ring ring;
        ring.file = file;
        rings_.push_back(std::move(ring));
    }
    const int rows = (static_cast<int>(files.size()) + kColumns - 1) / kColumns;
    sheetSize_ = {kColumns * kSize.width, rows * kSize.height};
    sheet_.assign(
        4 * static_cast<std::size_t>(sheetSize_.width) * static_cast<std::size_t>(sheetSize_.height), 255);
    texture_ = nullptr;
    work_ = std::make_unique<Work>();
    work_->catalogue = catalogue;
    work_->reading = std::async(std::launch::async, [files, cache = cache_, catalogue] {
        std::vector<Read> all;
        all.reserve(files.size());
        for (const fs::path& file : files)
            all.push_back(readRing(file, cache, catalogue));
        return all;
    });
}

void RingPictures::put(std::size_t ring, const std::vector<std::uint8_t>& rgba) {
    rings_[ring].isThere = isNew_ = true;
    const auto column = ring % kColumns, row = ring / kColumns;
    const std::size_t stride = 4 * static_cast<std::size_t>(kSize.width);
    for (std::size_t y = 0; y < static_cast<std::size_t>(kSize.height); ++y) {
        const std::size_t to =
            ((row * static_cast<std::size_t>(kSize.height) + y) * kColumns + column) * stride;
        std::copy_n(rgba.begin() + static_cast<std::ptrdiff_t>(y * stride), stride,
                    sheet_.begin() + static_cast<std::ptrdiff_t>(to));
    }
}

void RingPictures::follow(Painter& painter) {
    const auto isThere = [](const auto& coming) {
        return coming.valid() && coming.wait_for(std::chrono::seconds(0)) == std::future_status::ready;
    };
    if (work_ == nullptr) return;
    Work& work = *work_;
    if (isThere(work.reading)) {
        std::vector<Read> all = work.reading.get();
        for (std::size_t i = 0; i < all.size(); ++i) {
            rings_[i] = all[i].ring;
            if (all[i].image)
                put(i, all[i].image->rgba);
            else if (all[i].ring.problem.empty())
                work.missing.emplace_back(i, std::move(all[i].made));
        }
    }
    if (work.reading.valid()) return;
    if (work.missing.empty()) return work_.reset();
    const std::size_t ring = work.missing.front().first;
    try {
        if (isThere(work.preparing)) {
            work.png.clear();
            work.painting.emplace(work.preparing.get(), [&work](std::string_view more) { work.png += more; });
        }
        if (work.painting && painter.advance(*work.painting)) {
            if (const auto image = render::imageOf(work.png)) {
                put(ring, image->rgba);
                keep(cache_, rings_[ring].key, work.png);
            }
            work.painting.reset();
            work.missing.pop_front();
        } else if (!work.painting && !work.preparing.valid()) {
            work.preparing = std::async(std::launch::async,
                                        [made = work.missing.front().second, catalogue = work.catalogue] {
                                            PictureCall call;
                                            call.width = kSize.width;
                                            call.height = kSize.height;
                                            return stillFor(call, made, catalogue, design::Stage::Finished);
                                        });
        }
    } catch (const std::exception& error) {
        rings_[ring].problem = error.what();
        work.missing.pop_front();
    }
}

ImTextureID RingPictures::texture(Painter& painter) {
    if (std::exchange(isNew_, false)) texture_ = painter.show(sheet_, sheetSize_);
    return texture_;
}

std::array<float, 4> RingPictures::within(std::size_t ring) const {
    const auto across = static_cast<float>(kColumns);
    const auto down = static_cast<float>(sheetSize_.height) / static_cast<float>(kSize.height);
    const std::size_t above = ring / kColumns;
    const auto column = static_cast<float>(ring % kColumns), row = static_cast<float>(above);
    return {column / across, row / down, (column + 1) / across, (row + 1) / down};
}

}  // namespace bandwright::app
