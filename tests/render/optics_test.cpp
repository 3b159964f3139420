#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <vector>

#include "gl_fixture.hpp"
#include "shaders.hpp"
#include "trade/catalogue.hpp"

/// The stone's shader against textbook optics: its own function is run for a row of angles.
namespace bandwright::render {
namespace {

constexpr int kAngles = 9000;  // a hundredth of a degree apart

class Optics : public GlTest {
  protected:
    void SetUp() override {
        GlTest::SetUp();
        folder_ =
            std::filesystem::path(testing::TempDir()) / ("bandwright-optics-" + std::to_string(::getpid()));
        std::filesystem::remove_all(folder_);
        std::filesystem::copy(BANDWRIGHT_SHADER_FOLDER, folder_);
        std::ofstream(folder_ / "row.frag")
            << "#include \"dielectric.glsl\"\n"
               "uniform float ratio;\n"
               "out vec4 colour;\n"
               "void main() { colour = vec4(dielectric(cos(radians(gl_FragCoord.x / "
               "100.0)), ratio)); }\n";
    }
    void TearDown() override {
        std::filesystem::remove_all(folder_);
        GlTest::TearDown();
    }

    // Share reflected at (i + 0.5) / 100 degrees.
    std::vector<float> reflected(double ratio) {
        auto texture = GlTexture::make();
        auto framebuffer = GlFramebuffer::make();
        const auto layout = GlVertexArray::make();
        glBindTexture(GL_TEXTURE_2D, texture);
        glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA32F, kAngles, 1, 0, GL_RGBA, GL_FLOAT, nullptr);
        glBindFramebuffer(GL_FRAMEBUFFER, framebuffer);
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture, 0);
        glViewport(0, 0, kAngles, 1);
        const Program program("screen.vert", "row.frag", folder_);
        program.use();
        program.set("ratio", static_cast<float>(ratio));
        glBindVertexArray(layout);
        glDrawArrays(GL_TRIANGLES, 0, 3);
        std::vector<float> row(kAngles);
        glReadPixels(0, 0, kAngles, 1, GL_RED, GL_FLOAT, row.data());
        return row;
    }

    double criticalAngle(double index) {
        const std::vector<float> row = reflected(1 / index);
        std::size_t i = 0;
        while (i < row.size() && row[i] < 1)
            ++i;
        return static_cast<double>(i) / 100;
    }

    std::filesystem::path folder_;
};

// Fresnel's equations by Snell's angle (Born and Wolf, Principles of Optics, 1.5.2).
double fresnel(double degrees, double ratio) {
    const double in = degrees * std::numbers::pi / 180, sine = std::sin(in) / ratio;
    if (sine >= 1) return 1;
    const double out = std::asin(sine);
    const double s = std::sin(in - out) / std::sin(in + out), p = std::tan(in - out) / std::tan(in + out);
    return (s * s + p * p) / 2;
}

TEST_F(Optics, AllLightStaysInADiamondBeyond24Point43DegreesAndInASapphireBeyond34Point44) {
    // Diamond n 2.4175 (Peter 1923), sapphire n 1.7682 (Malitson 1962).
    EXPECT_NEAR(criticalAngle(2.4175), 24.43, 0.015);
    EXPECT_NEAR(criticalAngle(1.7682), 34.44, 0.015);
}

TEST_F(Optics, AllLightStaysInBerylBeyond39Point3Degrees) {
    // Beryl n 1.577 to 1.583 for emerald (Webster, Gems; the catalogue's own): arcsin(1 / 1.58) = 39.27
    // degrees.
    EXPECT_NEAR(criticalAngle(trade::builtInCatalogue().gem("emerald")->refractiveIndex.value), 39.27, 0.1);
    EXPECT_NEAR(criticalAngle(trade::builtInCatalogue().gem("aquamarine")->refractiveIndex.value), 39.27,
                0.1);
}

TEST_F(Optics, StraightOnADiamondReflects17PercentAndASapphire8) {
    // ((n - 1) / (n + 1))^2: .172 and .0770.
    EXPECT_NEAR(static_cast<double>(reflected(2.4175).front()), 0.172, 0.0005);
    EXPECT_NEAR(static_cast<double>(reflected(1.7682).front()), 0.0770, 0.0005);
}

TEST_F(Optics, SharesFollowFresnelsEquationsIntoAndOutOfTheStone) {
    for (const double ratio : {1.58, 2.4175, 1 / 1.58, 1 / 2.4175}) {
        const std::vector<float> row = reflected(ratio);
        for (int i = 50; i < kAngles; i += 130) {
            EXPECT_NEAR(static_cast<double>(row[static_cast<std::size_t>(i)]),
                        fresnel((i + 0.5) / 100, ratio), 2e-3)
                << i / 100.0 << " degrees, ratio " << ratio;
        }
    }
}

}  // namespace
}  // namespace bandwright::render
