#include "issue.hpp"

#include <ctime>
#include <utility>

#include "app/file_panel.hpp"
#include "design_source.hpp"
#include "route/quote.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

std::string dayOfChange(const fs::path& file) {
    std::error_code error;
    const fs::file_time_type changed = fs::last_write_time(file, error);
    if (error) return {};
    // The two clocks begin at different times, and not every library says how far apart.
    const auto age = fs::file_time_type::clock::now() - changed;
    const auto now = std::chrono::system_clock::now();
    return route::inWords(std::chrono::floor<std::chrono::days>(
        now - std::chrono::duration_cast<std::chrono::system_clock::duration>(age)));
}

std::chrono::year_month_day today() {
    const std::time_t now = std::time(nullptr);
    const std::tm* local = std::localtime(&now);
    constexpr int kFirstYear = 1900;
    return {std::chrono::year(kFirstYear + local->tm_year),
            std::chrono::month(static_cast<unsigned>(local->tm_mon) + 1),
            std::chrono::day(static_cast<unsigned>(local->tm_mday))};
}

std::string designName(const std::string& file) {
    return withDesignEnding(isPdfFile(file) ? fs::path(file).stem() : fs::path(file).filename()).string();
}

paper::Attachment attachedAs(std::string name, std::string text) {
    return {std::move(name), "The design this paper was made from", std::move(text)};
}

}  // namespace bandwright::app
