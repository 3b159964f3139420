#include "export_file.hpp"

#include <charconv>
#include <optional>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "command_parts.hpp"
#include "formats/model.hpp"
#include "render/bake.hpp"
#include "render/image.hpp"

namespace bandwright::app {

namespace {

constexpr double kMostShrink = 20;  // percent; more is a mistake
constexpr std::string_view kByMetal = "metal";

std::optional<double> percentage(const std::string& text) {
    double value = 0;
    const char* end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc() || rest != end || !(value > 0 && value <= kMostShrink)) return {};
    return value;
}

/// The one metal of the chosen parts.
const trade::Metal& castMetal(const ExportCall& call, const design::Design& design,
                              const trade::Catalogue& catalogue) {
    const bool bandAlone = design.channels.empty() && design.settings.empty() && !design.band.liner;
    const std::vector<std::string> parts =
        call.parts.empty() && bandAlone ? std::vector<std::string>{"band"} : call.parts;
    if (parts == std::vector<std::string>{"band"}) return *catalogue.metal(design.band.metal);
    if (parts == std::vector<std::string>{"liner"} && design.band.liner)
        return *catalogue.metal(design.band.liner->metal);
    throw base::InputError(
        "--shrink metal: what is cast is of one metal; choose it with --parts band or --parts liner, or give "
        "a percentage.");
}

/// Says which files of an older ring lie among those written.
void addStrangers(Exported& exported, const std::filesystem::path& out) {
    std::vector<std::string> names;
    for (const std::filesystem::path& file : formats::leftOfAnotherSet(out, exported.files))
        names.push_back(file.filename().string());
    if (names.empty()) return;
    exported.note += std::string(exported.note.empty() ? "" : " ") +
                     "Not of this ring, but of one written before: " + base::listed(names) + ".";
}

}  // namespace

void requireExport(const ExportCall& call) {
    formats::modelFormat(call.out);
    requireRange(call.chord, 0.005, 1000, "--chord");
    if (!call.shrink.empty() && call.shrink != kByMetal && !percentage(call.shrink))
        throw base::InputError("--shrink: found " + base::inQuotes(call.shrink) +
                               "; allowed is a percentage above 0 up to 20, or metal.");
}

Exported exportFiles(const ExportCall& call, const design::Design& design, design::Stage stage,
                     const trade::Catalogue& catalogue, const std::function<void(double)>& progress) {
    formats::ModelOptions options;
    options.stage = stage;
    options.build = {base::Micrometres(call.chord)};
    options.parts = call.parts;
    options.oneBody = call.oneBody;
    Exported result;
    if (call.shrink == kByMetal) {
        const trade::Metal& metal = castMetal(call, design, catalogue);
        const formats::CastingShrink shrink = formats::castingShrink(metal);
        options.factor = shrink.factor;
        result.note = "Larger by " + base::fixed(100 * (shrink.factor - 1), 2) + " %, which " + metal.name +
                      " shrinks from where it begins to melt until it is cold (" + shrink.source +
                      "). Wax and mould have shrinkages of their own: your caster's figure goes before this.";
    } else if (!call.shrink.empty()) {
        options.factor = 1 + *percentage(call.shrink) / 100;
        result.note = "Larger by " + call.shrink + " %, as told.";
    }
    options.progress = progress;
    std::optional<render::Baker> baker;
    if (formats::modelFormat(call.out).ending == ".glb" && !call.plain) {
        try {
            baker.emplace();
            options.texture = [&baker](const scene::Body& flat, const scene::Extent& extent, scene::Size size,
                                       scene::Texture what) {
                return render::pngOf(baker->bake(flat, extent, size, what));
            };
        } catch (const std::runtime_error&) {
            result.note += std::string(result.note.empty() ? "" : " ") +
                           "Without the patterns of fills and layers: no picture can be drawn here.";
        }
    }
    result.files = formats::writeModel(design, catalogue, options, call.out);
    const bool isSet = formats::modelFormat(call.out).ending == ".stl" && result.files.size() > 1;
    if (isSet && call.parts.empty()) addStrangers(result, call.out);
    return result;
}

std::string formatsText() {
    std::string text;
    for (const formats::ModelFormat& format : formats::modelFormats())
        text +=
            (text.empty() ? "" : "; ") + std::string(format.ending) + " (" + std::string(format.holds) + ")";
    return text;
}

}  // namespace bandwright::app
