#include "png_rows.hpp"

#include <zlib.h>

#include <cmath>
#include <stdexcept>
#include <string>

#include "render/image.hpp"

namespace bandwright::render {

namespace {

constexpr std::size_t kPixel = 4;                       // bytes
constexpr std::size_t kPiece = std::size_t{64} * 1024;  // of packed bytes in a chunk
constexpr std::uint8_t kByLeftNeighbour = 1;            // filter type Sub

// Big-endian.
std::string number(std::uint32_t value) {
    std::string text;
    for (int shift = 24; shift >= 0; shift -= 8)
        text += static_cast<char>(value >> shift & 0xFFU);
    return text;
}

std::string number(int value) {
    return number(static_cast<std::uint32_t>(value));
}

}  // namespace

PngRows::PngRows(scene::Size size, std::function<void(std::string_view)> bytes, double dotsPerInch)
    : bytes_(std::move(bytes)),
      stride_(kPixel * static_cast<std::size_t>(size.width)),
      row_(stride_ + 1),
      packed_(kPiece),
      stream_(std::make_unique<z_stream>()) {
    // This level takes a quarter of the default's time for a tenth more bytes.
    constexpr int kLevel = 3;
    if (deflateInit(stream_.get(), kLevel) != Z_OK)
        throw std::runtime_error("The picture cannot be encoded as PNG: there is too little memory.");
    stream_->next_out = packed_.data();
    stream_->avail_out = kPiece;
    try {
        bytes_("\x89PNG\r\n\x1A\n");
        // 8 bits a channel, of colour with alpha; the one way to pack and to filter; not interlaced.
        chunk("IHDR", number(size.width) + number(size.height) + std::string{8, 6, 0, 0, 0});
        chunk("sRGB", std::string(1, '\0'));  // to be shown perceptually
        if (dotsPerInch > 0) {
            constexpr double kInchesPerMetre = 1 / 0.0254;
            const auto perMetre = static_cast<std::uint32_t>(std::lround(dotsPerInch * kInchesPerMetre));
            chunk("pHYs", number(perMetre) + number(perMetre) + '\1');
        }
    } catch (...) {
        deflateEnd(stream_.get());
        throw;
    }
}

PngRows::~PngRows() {
    deflateEnd(stream_.get());
}

void PngRows::chunk(std::string_view type, std::string_view data) {
    const std::string body = std::string(type) += data;
    const uLong check = crc32(0, reinterpret_cast<const Bytef*>(body.data()), static_cast<uInt>(body.size()));
    bytes_(number(static_cast<std::uint32_t>(data.size())) + body +
           number(static_cast<std::uint32_t>(check)));
}

void PngRows::pack(const std::uint8_t* from, std::size_t count, bool ends) {
    stream_->next_in = const_cast<Bytef*>(from);  // NOLINT: zlib only reads through this pointer
    stream_->avail_in = static_cast<uInt>(count);
    int result = Z_OK;
    do {
        result = deflate(stream_.get(), ends ? Z_FINISH : Z_NO_FLUSH);
        const bool isDone = result == Z_STREAM_END;
        if (stream_->avail_out > 0 && !isDone) continue;
        chunk("IDAT", {reinterpret_cast<const char*>(packed_.data()), kPiece - stream_->avail_out});
        stream_->next_out = packed_.data();
        stream_->avail_out = kPiece;
    } while (ends ? result != Z_STREAM_END : stream_->avail_in > 0);
}

void PngRows::write(const std::vector<std::uint8_t>& rgba) {
    // The filter by the left neighbour packs a picture with fine grain best.
    row_[0] = kByLeftNeighbour;
    for (std::size_t at = 0; at + stride_ <= rgba.size(); at += stride_) {
        for (std::size_t i = 0; i < stride_; ++i) {
            const std::uint8_t left = i < kPixel ? std::uint8_t{0} : rgba[at + i - kPixel];
            row_[i + 1] = static_cast<std::uint8_t>(rgba[at + i] - left);
        }
        pack(row_.data(), row_.size(), false);
    }
}

void PngRows::finish() {
    pack(nullptr, 0, true);
    chunk("IEND", {});
}

std::optional<Image> readRows(std::string_view png) {
    constexpr std::string_view kSignature = "\x89PNG\r\n\x1A\n";
    constexpr std::size_t kAround = 12;  // length, type and check of a chunk
    constexpr std::uint32_t kLargest = 16384;
    const auto numberAt = [&](std::size_t at) {
        std::uint32_t value = 0;
        for (std::size_t i = at; i < at + 4; ++i)
            value = value << 8U | static_cast<std::uint8_t>(png[i]);
        return value;
    };
    if (!png.starts_with(kSignature)) return std::nullopt;
    std::uint32_t width = 0, height = 0;
    std::string packed;
    for (std::size_t at = kSignature.size(); at + kAround <= png.size();) {
        const std::size_t length = numberAt(at);
        if (length > png.size() - at - kAround) return std::nullopt;
        const std::string_view type = png.substr(at + 4, 4), data = png.substr(at + 8, length);
        if (type == "IHDR" && data.size() == 13) {
            if (data.substr(8) != std::string_view("\x8\x6\0\0\0", 5)) return std::nullopt;
            width = numberAt(at + 8);
            height = numberAt(at + 12);
        } else if (type == "IDAT") {
            packed += data;
        }
        at += length + kAround;
    }
    if (width == 0 || height == 0 || width > kLargest || height > kLargest) return std::nullopt;
    const std::size_t stride = kPixel * width;
    std::vector<std::uint8_t> rows((stride + 1) * height);
    auto count = static_cast<uLongf>(rows.size());
    if (uncompress(rows.data(), &count, reinterpret_cast<const Bytef*>(packed.data()),
                   static_cast<uLong>(packed.size())) != Z_OK ||
        count != rows.size())
        return std::nullopt;
    Image image{{static_cast<int>(width), static_cast<int>(height)}, {}};
    image.rgba.reserve(stride * height);
    for (std::size_t at = 0; at < rows.size(); at += stride + 1) {
        if (rows[at] != kByLeftNeighbour) return std::nullopt;
        for (std::size_t i = 0; i < stride; ++i) {
            const std::uint8_t left = i < kPixel ? std::uint8_t{0} : image.rgba[image.rgba.size() - kPixel];
            image.rgba.push_back(static_cast<std::uint8_t>(rows[at + 1 + i] + left));
        }
    }
    return image;
}

}  // namespace bandwright::render
