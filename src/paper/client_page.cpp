#include <array>

#include "paper/client_papers.hpp"

namespace bandwright::paper {

namespace {

std::string escaped(const std::string& text) {
    std::string safe;
    for (const char c : text) {
        switch (c) {
            case '&':
                safe += "&amp;";
                break;
            case '<':
                safe += "&lt;";
                break;
            case '>':
                safe += "&gt;";
                break;
            case '"':
                safe += "&quot;";
                break;
            default:
                safe += c;
        }
    }
    return safe;
}

/// RFC 4648.
std::string base64(const std::string& bytes) {
    static constexpr std::string_view kLetters =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const auto at = [&](std::size_t k) {
            return i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U;
        };
        const unsigned three = at(0) << 16U | at(1) << 8U | at(2);
        for (std::size_t k = 0; k < 4; ++k)
            text += i + k > bytes.size() ? '=' : kLetters[three >> (18 - 6 * k) & 63U];
    }
    return text;
}

std::string listOf(const std::string& head, const std::vector<std::string>& sentences) {
    if (sentences.empty()) return {};
    std::string html = "<section><h2>" + escaped(head) + "</h2>\n<ul>\n";
    for (const std::string& sentence : sentences)
        html += "<li>" + escaped(sentence) + "</li>\n";
    return html + "</ul></section>\n";
}

/// Type and margins that fit a phone and a desk alike; colours by the reader's own light or dark.
constexpr std::string_view kStyle = R"(
:root { color-scheme: light dark; }
body { font: 1rem/1.5 system-ui, sans-serif; margin: 0 auto; max-width: 40rem; padding: 1rem; }
h1 { font-size: 1.8rem; line-height: 1.2; margin: 0 0 .25rem; }
h2 { font-size: 1.15rem; margin: 1.5rem 0 .25rem; }
img { width: 100%; height: auto; display: block; margin: 1rem 0; border-radius: .3rem; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .3rem 1rem; margin: 0; }
dt { font-weight: 600; } dd { margin: 0; }
ul { margin: .25rem 0; padding-left: 1.2rem; }
)";

/// The picture's place, in which the ring is turned, and what turns it without a pointer.
constexpr std::string_view kTurnedStyle = R"(
#turned { position: relative; margin: 1rem 0; }
#turned img { margin: 0; }
#ring { position: absolute; inset: 0; width: 100%; height: 100%; border-radius: .3rem; touch-action: pan-y pinch-zoom; cursor: grab; }
#ring:focus-visible { outline: 3px solid #14606f; outline-offset: 2px; }
#ring[hidden], #keys[hidden] { display: none; }
#keys { display: flex; flex-wrap: wrap; gap: .5rem; margin: .5rem 0; }
#keys button { font: inherit; padding: .4rem .9rem; min-height: 2.75rem; }
)";
constexpr std::string_view kTurning =
    R"(<p id="keys" hidden><button type="button" data-turn="left">Turn left</button>
<button type="button" data-turn="right">Turn right</button> <button type="button" data-turn="nearer">Nearer</button>
<button type="button" data-turn="farther">Farther</button> <button type="button" data-turn="dark" aria-pressed="false">Lights
out</button></p>
<p id="said" role="status"></p>
)";

std::string dataBlock(const std::string& id, const std::string& more, const std::string& json) {
    return "<script type=\"application/json\" id=\"" + id + "\"" + more + ">" + json + "</script>\n";
}

std::string pageOf(const Job& job, const std::string& price, const Viewer* viewer) {
    const ClientWords words = clientWords(job);
    const std::string title = escaped(job.design.title);
    std::string html =
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
        "style-src 'unsafe-inline'" +
        (viewer == nullptr ? "" : "; script-src " + viewer->hashes + " 'wasm-unsafe-eval'") + "\">\n<title>" +
        title + "</title>\n<style>" + std::string(kStyle) +
        std::string(viewer == nullptr ? "" : kTurnedStyle) + "</style>\n</head>\n<body>\n<main>\n<h1>" +
        title + "</h1>\n";
    if (!job.workshop.name.empty()) html += "<p>" + escaped(job.workshop.name) + "</p>\n";
    if (viewer != nullptr) html += "<div id=\"turned\">\n";
    if (!job.picture.png.empty())
        html += "<img alt=\"A picture of the ring " + title + "\" src=\"data:image/" +
                (job.picture.png.starts_with("RIFF") ? "webp" : "png") + ";base64," +
                base64(job.picture.png) + "\">\n";
    if (viewer != nullptr)
        html += "<canvas id=\"ring\" tabindex=\"0\" role=\"application\" aria-label=\"The ring " + title +
                ", to be turned by the arrow keys\" hidden></canvas>\n</div>\n" + std::string(kTurning);
    html += "<dl>\n";
    for (const auto& [label, text] : words.facts)
        html += "<dt>" + escaped(label) + "</dt><dd>" + escaped(text) + "</dd>\n";
    if (!price.empty()) html += "<dt>Price</dt><dd>" + escaped(price) + "</dd>\n";
    html += "</dl>\n" + listOf("Good to know", words.know) + listOf("Care", words.care) +
            listOf("Later", words.later) + listOf("In an emergency", words.emergency);
    html += "</main>\n";
    if (viewer != nullptr) {
        html += dataBlock("design", " data-mark=\"" + viewer->mark + "\"", viewer->design);
        if (!viewer->materials.empty()) html += dataBlock("materials", "", viewer->materials);
        html += viewer->html;
    }
    return html + "</body>\n</html>\n";
}

}  // namespace

std::string clientPage(const Job& job, const std::string& price) {
    return pageOf(job, price, nullptr);
}

std::string clientPage(const Job& job, const std::string& price, const Viewer& viewer) {
    return pageOf(job, price, &viewer);
}

}  // namespace bandwright::paper
