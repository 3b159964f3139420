#include "targets.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string_view>

#include "shaders.hpp"

namespace bandwright::render {

namespace {

constexpr GLint kSamples = 4;
// Shares of the picture's sides that are drawn while something moves and a processor draws. Each step costs
// about half as much again as the next.
constexpr std::array kMovingScales = {0.75, 0.62, 0.5, 0.41, 0.33};
constexpr double kInTime = 26;  // ms: 30 frames a second, with the window's other parts to be drawn
constexpr double kTimeToSpare = 13;
constexpr int kFramesToBeSure = 3;  // one slow frame may be another program's doing

// Several samples a pixel cost almost nothing on a graphics processor, but with four of them drawing in
// software takes nearly three times as long. There only the many passes smooth a still picture.
bool drawnBySoftware() {
    const std::string name = nameOfDrawer();
    for (const std::string_view software :
         {"llvmpipe", "softpipe", "SwiftShader", "Apple Software Renderer"}) {
        if (name.find(software) != std::string::npos) return true;
    }
    return false;
}

GLint samplesAPixel() {
    GLint most = 0;
    glGetIntegerv(GL_MAX_SAMPLES, &most);
    return std::min(kSamples, most);
}

GlRenderbuffer sampledBuffer(GLenum format, GLint samples, scene::Size size) {
    auto buffer = GlRenderbuffer::make();
    glBindRenderbuffer(GL_RENDERBUFFER, buffer);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, format, size.width, size.height);
    return buffer;
}

// Only within the scissor box, if there is one.
void clear(scene::Size size) {
    glViewport(0, 0, size.width, size.height);
    glClearColor(0, 0, 0, 0);
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT | GL_STENCIL_BUFFER_BIT);
}

void attachDepth(GLuint depth) {
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, depth);
    requireComplete();
}

}  // namespace

void requireComplete() {
    if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE) {
        throw std::runtime_error("This graphics driver does not offer a surface that the picture needs.");
    }
}

TextureTarget textureTarget(GLenum format, scene::Size size) {
    TextureTarget target{GlTexture::make(), GlFramebuffer::make()};
    glBindTexture(GL_TEXTURE_2D, target.texture);
    // The pixels to come are told of, too: WebGL takes only pairs that fit.
    glTexImage2D(GL_TEXTURE_2D, 0, static_cast<GLint>(format), size.width, size.height, 0,
                 format == GL_R8 ? GL_RED : GL_RGBA, format == GL_RGBA16F ? GL_FLOAT : GL_UNSIGNED_BYTE,
                 nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, target.texture, 0);
    requireComplete();
    return target;
}

void fillRow(GLuint texture, const std::vector<std::array<float, 3>>& row) {
    glActiveTexture(GL_TEXTURE0 + kSourceUnit);
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB16F, static_cast<GLsizei>(row.size()), 1, 0, GL_RGB, GL_FLOAT,
                 row.data());
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glBindTexture(GL_TEXTURE_2D, 0);
}

bool Targets::fit(scene::Size size) {
    if (size == size_) return false;
    const GLint samples = sampledAsked_.value_or(!drawnBySoftware()) ? samplesAPixel() : 0;
    pass_ = textureTarget(GL_RGBA8, size);
    sum_ = textureTarget(GL_RGBA16F, size);
    shown_ = textureTarget(GL_RGBA8, size);
    depth_ = sampledBuffer(GL_DEPTH24_STENCIL8, 0, size);
    for (const TextureTarget* target : {&pass_, &shown_}) {
        glBindFramebuffer(GL_FRAMEBUFFER, target->framebuffer);
        attachDepth(depth_);
    }
    size_ = size;
    if (samples > 0) {
        colour_ = sampledBuffer(GL_RGBA8, samples, size);
        sampledDepth_ = sampledBuffer(GL_DEPTH24_STENCIL8, samples, size);
        sampled_ = GlFramebuffer::make();
        glBindFramebuffer(GL_FRAMEBUFFER, sampled_);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour_);
        attachDepth(sampledDepth_);
    } else {
        makeMoving();
    }
    return true;
}

scene::Size Targets::movingSize() const {
    if (sampled_ != 0) return size_;
    const auto scaled = [this](int side) {
        return std::max(1, static_cast<int>(std::lround(kMovingScales[pace_] * side)));
    };
    return {scaled(size_.width), scaled(size_.height)};
}

void Targets::pace(double milliseconds) {
    const int wish = milliseconds > kInTime ? 1 : milliseconds < kTimeToSpare ? -1 : 0;
    wished_ = wish != 0 && wish * wished_ >= 0 ? wished_ + wish : wish;
    if (std::abs(wished_) < kFramesToBeSure) return;
    const std::size_t next =
        wished_ > 0 ? std::min(pace_ + 1, kMovingScales.size() - 1) : pace_ - (pace_ > 0 ? 1 : 0);
    wished_ = 0;
    if (next == pace_) return;
    pace_ = next;
    makeMoving();
}

void Targets::makeMoving() {
    moving_ = textureTarget(GL_RGBA8, movingSize());
    movingDepth_ = sampledBuffer(GL_DEPTH24_STENCIL8, 0, movingSize());  // WebGL wants one of the same size
    glBindFramebuffer(GL_FRAMEBUFFER, moving_.framebuffer);
    attachDepth(movingDepth_);
}

void Targets::begin(const TextureTarget& to, scene::Size size) const {
    glBindFramebuffer(GL_FRAMEBUFFER, to.framebuffer);
    clear(size);
}

void Targets::beginSampled() const {
    glBindFramebuffer(GL_FRAMEBUFFER, sampled_);
    clear(size_);
}

void Targets::resolve(const TextureTarget& to, const PixelBox& box) const {
    const int right = box.x + box.size.width, top = box.y + box.size.height;
    glBindFramebuffer(GL_READ_FRAMEBUFFER, sampled_);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, to.framebuffer);
    glBlitFramebuffer(box.x, box.y, right, top, box.x, box.y, right, top, GL_COLOR_BUFFER_BIT, GL_NEAREST);
}

void Targets::showMoving() const {
    if (sampled_ != 0) return;
    const scene::Size part = movingSize();
    glBindFramebuffer(GL_READ_FRAMEBUFFER, moving_.framebuffer);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, shown_.framebuffer);
    glBlitFramebuffer(0, 0, part.width, part.height, 0, 0, size_.width, size_.height, GL_COLOR_BUFFER_BIT,
                      GL_LINEAR);
}

}  // namespace bandwright::render
