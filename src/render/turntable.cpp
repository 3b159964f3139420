#include <webp/encode.h>
#include <webp/mux.h>

#include <chrono>
#include <future>
#include <memory>
#include <stdexcept>
#include <utility>

#include "platform/atomic_file.hpp"
#include "platform/offscreen_context.hpp"
#include "render/renderer.hpp"
#include "render/still.hpp"

namespace bandwright::render {

namespace {

[[noreturn]] void cannotEncode() {
    throw std::runtime_error("The turntable cannot be encoded as WebP.");
}

struct EncoderDelete {
    void operator()(WebPAnimEncoder* encoder) const { WebPAnimEncoderDelete(encoder); }
};
using Encoder = std::unique_ptr<WebPAnimEncoder, EncoderDelete>;

Encoder encoderFor(scene::Size size) {
    WebPAnimEncoderOptions options;
    if (WebPAnimEncoderOptionsInit(&options) == 0) cannotEncode();
    options.anim_params.loop_count = 0;  // for ever
    options.allow_mixed = 0;
    Encoder encoder(WebPAnimEncoderNew(size.width, size.height, &options));
    if (!encoder) cannotEncode();
    return encoder;
}

void add(WebPAnimEncoder& encoder, const Image& image, int time, float quality) {
    WebPConfig config;
    WebPPicture picture;
    if (WebPConfigInit(&config) == 0 || WebPPictureInit(&picture) == 0) cannotEncode();
    config.quality = quality;
    picture.use_argb = 1;
    picture.width = image.size.width;
    picture.height = image.size.height;
    const bool added = WebPPictureImportRGBA(&picture, image.rgba.data(), 4 * image.size.width) != 0 &&
                       WebPAnimEncoderAdd(&encoder, &picture, time, &config) != 0;
    WebPPictureFree(&picture);
    if (!added) cannotEncode();
}

}  // namespace

std::string webpOf(const Image& image, float quality) {
    std::uint8_t* bytes = nullptr;
    const std::size_t size = WebPEncodeRGBA(image.rgba.data(), image.size.width, image.size.height,
                                            4 * image.size.width, quality, &bytes);
    if (size == 0) throw std::runtime_error("The picture cannot be encoded as WebP.");
    std::string text(reinterpret_cast<const char*>(bytes), size);
    WebPFree(bytes);
    return text;
}

struct TurntablePainting::State {
    State(scene::Scene wanted, scene::Size of, const Turntable& as)
        : scene(std::move(wanted)),
          size(of),
          turntable(as),
          azimuth(scene.view.camera.azimuth),
          encoder(encoderFor(size)) {}

    scene::Scene scene;
    scene::Size size;
    Turntable turntable;
    double azimuth;  ///< of the first picture
    int drawn = 0;
    Encoder encoder;
    std::future<void> encoding;  ///< of the picture drawn last; ends before what it uses
    std::string bytes;
};

TurntablePainting::TurntablePainting(scene::Scene scene, scene::Size size, const Turntable& turntable)
    : state_(std::make_unique<State>(std::move(scene), size, turntable)) {}
TurntablePainting::~TurntablePainting() = default;
TurntablePainting::TurntablePainting(TurntablePainting&&) noexcept = default;
TurntablePainting& TurntablePainting::operator=(TurntablePainting&&) noexcept = default;

bool TurntablePainting::advance(Renderer& renderer) {
    State& now = *state_;
    const Turntable& as = now.turntable;
    if (!now.bytes.empty()) return true;
    if (now.drawn < as.frames) {
        now.scene.view.camera.azimuth = now.azimuth + 360.0 * now.drawn / as.frames;
        renderer.draw(now.scene, now.size, Quality::Still);
        if (!renderer.settled()) return false;
    }
    constexpr std::chrono::milliseconds kWait{5};  // so that neither frames wait long nor a loop spins
    if (now.encoding.valid()) {
        if (now.encoding.wait_for(kWait) != std::future_status::ready) return false;
        now.encoding.get();
    }
    if (now.drawn < as.frames) {
        now.encoding =
            std::async(std::launch::async,
                       [&encoder = *now.encoder, image = renderer.read(), time = now.drawn * as.milliseconds,
                        quality = as.quality] { add(encoder, image, time, quality); });
        ++now.drawn;
        return false;
    }
    WebPData data;
    WebPDataInit(&data);
    if (WebPAnimEncoderAdd(now.encoder.get(), nullptr, as.frames * as.milliseconds, nullptr) == 0 ||
        WebPAnimEncoderAssemble(now.encoder.get(), &data) == 0)
        cannotEncode();
    now.bytes.assign(reinterpret_cast<const char*>(data.bytes), data.size);
    WebPDataClear(&data);
    return true;
}

double TurntablePainting::share() const {
    return static_cast<double>(state_->drawn) / state_->turntable.frames;
}

std::string TurntablePainting::take() {
    return std::move(state_->bytes);
}

void writeTurntable(TurntablePainting painting, const std::filesystem::path& file,
                    const ProgressReport& progress) {
    const platform::OffscreenContext context;
    Renderer renderer(context.loader());
    double told = 0;
    while (!painting.advance(renderer)) {
        if (!progress || painting.share() == told) continue;
        told = painting.share();
        progress(told);
    }
    platform::writeFileAtomically(file, painting.take());
}

}  // namespace bandwright::render
