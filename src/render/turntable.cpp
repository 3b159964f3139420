#include <webp/encode.h>
#include <webp/mux.h>

#include <memory>
#include <stdexcept>

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

void writeTurntable(const scene::Scene& scene, scene::Size size, const Turntable& turntable,
                    const std::filesystem::path& file, const ProgressReport& progress) {
    const platform::OffscreenContext context;
    Renderer renderer(context.loader());
    const Encoder encoder = encoderFor(size);
    scene::Scene turned = scene;
    for (int i = 0; i < turntable.frames; ++i) {
        turned.view.camera.azimuth = scene.view.camera.azimuth + 360.0 * i / turntable.frames;
        do {
            renderer.draw(turned, size, Quality::Still);
        } while (!renderer.settled());
        add(*encoder, renderer.read(), i * turntable.milliseconds, turntable.quality);
        if (progress) progress(static_cast<double>(i + 1) / turntable.frames);
    }
    WebPData data;
    WebPDataInit(&data);
    if (WebPAnimEncoderAdd(encoder.get(), nullptr, turntable.frames * turntable.milliseconds, nullptr) == 0 ||
        WebPAnimEncoderAssemble(encoder.get(), &data) == 0)
        cannotEncode();
    const std::string bytes(reinterpret_cast<const char*>(data.bytes), data.size);
    WebPDataClear(&data);
    platform::writeFileAtomically(file, bytes);
}

}  // namespace bandwright::render
