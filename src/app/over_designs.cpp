#include "over_designs.hpp"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <mutex>
#include <optional>

#include "app/command_line.hpp"
#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "command_parts.hpp"
#include "many_files.hpp"
#include "platform/interrupt.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

namespace {

/// The name of a design's file without its folder and endings.
std::string plainName(const std::string& file) {
    const std::string name = fs::path(file).filename().string();
    return name.substr(0, name.find('.', 1));
}

}  // namespace

void print(const std::string& text) {
    if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0) {
        throw base::InputError("Standard output cannot be written.");
    }
}

int runOverMany(const Call& call, const std::function<LineJson(const Call&)>& work) {
    const auto answer = [&](const std::string& file) {
        Call one = call;
        one.file = file;
        LineJson line;
        try {
            line = work(one);
        } catch (const std::exception& error) {
            const Ending ending = endingOf(error, file);
            line = {{"code", ending.code}, {"error", ending.line}};
            if (ending.code == kStopped) line["code"] = kWrong;
        }
        line["file"] = file;
        return Answer{line["code"], line.dump(-1, ' ', false, LineJson::error_handler_t::replace)};
    };
    const platform::InterruptNoted noted;
    return overMany(call.files, answer, call.into, print);
}

bool isOfMany(const Call& call) {
    return call.files.size() > 1 || !call.into.empty();
}

bool writesOfEach(const Call& call, const std::string& out) {
    const bool placed = out.find("{}") != std::string::npos;
    if (isOfMany(call) && !placed)
        throw base::InputError(
            "-o " + out +
            ": for several files, or --into, it must hold {}, which stands for the name of each.");
    if (!placed) return false;
    std::vector<std::string> names(call.files.size());
    std::ranges::transform(call.files, names.begin(), plainName);
    std::ranges::sort(names);
    const auto twice = std::ranges::adjacent_find(names);
    if (twice != names.end())
        throw base::InputError("two of the files are named " + base::inQuotes(*twice) +
                               ", and the second would be written over the first.");
    return true;
}

void placeName(std::string& out, const Call& call) {
    out.replace(out.find("{}"), 2, plainName(call.file));
}

LineJson writtenLine(const std::vector<fs::path>& files) {
    LineJson written = LineJson::array();
    for (const fs::path& file : files)
        written.push_back({{"name", file.string()}, {"bytes", fs::file_size(file)}});
    return {{"code", kDone}, {"written", written}};
}

namespace {

int drawEach(const Call& call, const std::function<LineJson(const Call&)>& draw) {
    std::mutex drawing;
    return runOverMany(call, [&](const Call& one) {
        const std::lock_guard lock(drawing);
        return draw(one);
    });
}

void requireJson(const Call& call, const char* command) {
    if (!call.json)
        throw base::InputError(std::string(command) + ": several files are told as JSON lines; give --json.");
}

}  // namespace

int tell(Call call, const char* command, const std::function<std::string(const Call&)>& told) {
    if (isOfMany(call)) {
        requireJson(call, command);
        return runOverMany(call, [&](const Call& one) {
            LineJson line = LineJson::parse(told(one));
            line["code"] = kDone;
            return line;
        });
    }
    call.file = call.files.front();
    print(told(call));
    return kDone;
}

int draw(Call call, std::string& (*out)(Call&), const char* doing,
         const std::function<void(const Call&)>& drawn) {
    if (writesOfEach(call, out(call)))
        return drawEach(call, [&](const Call& given) {
            Call one = given;
            placeName(out(one), one);
            drawn(one);
            return writtenLine({out(one)});
        });
    call.file = call.files.front();
    std::optional<Progress> progress;
    if (doing != nullptr) progress.emplace(doing);
    drawn(call);
    return kDone;
}

}  // namespace bandwright::app
