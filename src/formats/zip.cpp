#include "zip.hpp"

#include <zlib.h>

#include <algorithm>
#include <limits>
#include <new>
#include <stdexcept>

namespace bandwright::formats {

namespace {

constexpr std::uint64_t kMost = std::numeric_limits<std::uint32_t>::max();
// The level beyond which models get hardly smaller (tests/bench).
constexpr int kLevel = 4;

std::uint32_t within(std::uint64_t size) {
    if (size > kMost) throw std::length_error("more than 4 GiB in a ZIP archive");
    return static_cast<std::uint32_t>(size);
}

/// Raw deflate, as ZIP has it, of bytes that come in pieces and go in pieces.
class Deflater {
  public:
    explicit Deflater(const platform::ByteSink& sink) : sink_(sink) {
        constexpr int kRaw = -15, kMemory = 9;
        if (deflateInit2(&stream_, kLevel, Z_DEFLATED, kRaw, kMemory, Z_DEFAULT_STRATEGY) != Z_OK)
            throw std::bad_alloc();
    }
    ~Deflater() { deflateEnd(&stream_); }
    Deflater(const Deflater&) = delete;
    Deflater& operator=(const Deflater&) = delete;

    void add(std::string_view bytes) {
        while (!bytes.empty()) {
            const auto part = static_cast<uInt>(std::min<std::size_t>(bytes.size(), 1U << 30U));
            // zlib only reads through this pointer.
            stream_.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
            stream_.avail_in = part;
            crc_ = crc32(crc_, stream_.next_in, part);
            size_ += part;
            while (stream_.avail_in > 0)
                pump(Z_NO_FLUSH);
            bytes.remove_prefix(part);
        }
    }

    void finish() {
        stream_.avail_in = 0;
        while (pump(Z_FINISH) != Z_STREAM_END) {
        }
    }

    std::uint64_t packed() const { return packed_; }
    std::uint32_t crc() const { return static_cast<std::uint32_t>(crc_); }
    std::uint64_t size() const { return size_; }

  private:
    int pump(int flush) {
        stream_.next_out = reinterpret_cast<Bytef*>(room_.data());
        stream_.avail_out = static_cast<uInt>(room_.size());
        const int result = deflate(&stream_, flush);
        const std::size_t size = room_.size() - stream_.avail_out;
        if (size > 0) sink_({room_.data(), size});
        packed_ += size;
        if (result == Z_STREAM_ERROR) throw std::logic_error("deflate was called wrongly");
        return result;
    }

    const platform::ByteSink& sink_;
    z_stream stream_{};
    std::string room_ = std::string(std::size_t{1} << 16U, '\0');
    std::uint64_t packed_ = 0;
    uLong crc_ = crc32(0, nullptr, 0);
    std::uint64_t size_ = 0;
};

/// Numbers of a head, the low byte first.
class Head {
  public:
    Head& two(std::uint32_t value) { return bytes(value, 2); }
    Head& four(std::uint32_t value) { return bytes(value, 4); }
    const std::string& text() const { return text_; }

  private:
    Head& bytes(std::uint32_t value, int count) {
        for (int i = 0; i < count; ++i, value >>= 8U)
            text_ += static_cast<char>(value & 0xffU);
        return *this;
    }
    std::string text_;
};

constexpr std::uint32_t kVersion = 20;  // 2.0: deflate
constexpr std::uint32_t kDeflated = 8;
constexpr std::uint32_t kSizesBehind = 1U << 3U;  // general purpose bit 3
// The first moment that a ZIP can name, so that no clock is in the bytes: 1980-01-01 00:00.
constexpr std::uint32_t kTime = 0, kDate = 33;

}  // namespace

void ZipWriter::hand(std::string_view bytes) {
    sink_(bytes);
    written_ += bytes.size();
}

void ZipWriter::add(std::string_view name, const std::function<void(const platform::ByteSink&)>& produce) {
    Entry entry{std::string(name), 0, 0, 0, within(written_)};
    Head head;
    head.four(0x04034b50).two(kVersion).two(kSizesBehind).two(kDeflated).two(kTime).two(kDate);
    head.four(0).four(0).four(0);
    head.two(static_cast<std::uint32_t>(name.size())).two(0);
    hand(head.text());
    hand(name);
    const platform::ByteSink packed = [&](std::string_view bytes) { hand(bytes); };
    Deflater deflater(packed);
    produce([&](std::string_view bytes) { deflater.add(bytes); });
    deflater.finish();
    entry.crc = deflater.crc();
    entry.packed = within(deflater.packed());
    entry.size = within(deflater.size());
    Head behind;
    behind.four(0x08074b50).four(entry.crc).four(entry.packed).four(entry.size);
    hand(behind.text());
    entries_.push_back(entry);
}

void ZipWriter::add(std::string_view name, std::string_view bytes) {
    add(name, [bytes](const platform::ByteSink& sink) { sink(bytes); });
}

void ZipWriter::finish() {
    const std::uint64_t begin = written_;
    for (const Entry& entry : entries_) {
        Head head;
        head.four(0x02014b50)
            .two(kVersion)
            .two(kVersion)
            .two(kSizesBehind)
            .two(kDeflated)
            .two(kTime)
            .two(kDate);
        head.four(entry.crc).four(entry.packed).four(entry.size);
        head.two(static_cast<std::uint32_t>(entry.name.size())).two(0).two(0).two(0).two(0).four(0);
        head.four(entry.at);
        hand(head.text());
        hand(entry.name);
    }
    const auto count = static_cast<std::uint32_t>(entries_.size());
    Head end;
    end.four(0x06054b50).two(0).two(0).two(count).two(count);
    end.four(within(written_ - begin)).four(within(begin)).two(0);
    hand(end.text());
}

}  // namespace bandwright::formats
