#include "many_files.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <filesystem>
#include <fstream>
#include <mutex>
#include <nlohmann/json.hpp>
#include <optional>
#include <thread>

#include "base/input_error.hpp"
#include "command_parts.hpp"
#include "platform/interrupt.hpp"

namespace bandwright::app {

namespace {

/// How many of the files have their line already; the largest of their codes.
struct Begun {
    std::size_t lines = 0;
    int code = 0;
};

Begun begun(const std::vector<std::string>& files, const std::string& into) {
    Begun result;
    std::ifstream in(into, std::ios::binary);
    std::uintmax_t whole = 0;
    for (std::string line; std::getline(in, line) && !in.eof();) {
        const nlohmann::json object = nlohmann::json::parse(line, nullptr, false);
        if (result.lines == files.size() || !object.is_object() ||
            object.value("file", "") != files[result.lines])
            throw base::InputError(
                "--into " + into + ": its line " + std::to_string(result.lines + 1) +
                " is not of the file in that place of this call; name another, or the same "
                "files in the same order.");
        result.code = std::max(result.code, object.value("code", 0));
        whole += line.size() + 1;
        ++result.lines;
    }
    std::error_code none;
    if (std::filesystem::exists(into, none)) std::filesystem::resize_file(into, whole);
    return result;
}

}  // namespace

int overMany(const std::vector<std::string>& files, const std::function<Answer(const std::string&)>& work,
             const std::string& into, const std::function<void(const std::string&)>& print) {
    const Begun before = into.empty() ? Begun{} : begun(files, into);
    std::ofstream out;
    if (!into.empty()) {
        out.open(into, std::ios::binary | std::ios::app);
        if (!out) throw base::InputError("--into " + into + ": cannot be written.");
    }
    std::atomic<std::size_t> next = before.lines;
    std::atomic<bool> ends = false;
    std::vector<std::optional<Answer>> answers(files.size());
    std::mutex guard;
    std::condition_variable came;
    std::vector<std::jthread> workers;
    const std::size_t most =
        std::min<std::size_t>(std::max(1U, std::thread::hardware_concurrency()), files.size() - before.lines);
    for (std::size_t i = 0; i < most; ++i) {
        workers.emplace_back([&] {
            for (std::size_t k = next++; k < files.size() && !ends && !platform::interrupted(); k = next++) {
                Answer answer = work(files[k]);
                const std::lock_guard lock(guard);
                answers[k] = std::move(answer);
                came.notify_one();
            }
        });
    }
    int code = before.code;
    try {
        for (std::size_t k = before.lines; k < files.size(); ++k) {
            std::unique_lock lock(guard);
            // The wait ends now and then, because a signal wakes nobody.
            while (!answers[k] && !platform::interrupted())
                came.wait_for(lock, std::chrono::milliseconds(100));
            if (!answers[k]) throw Stopped();
            const Answer answer = std::move(*answers[k]);
            answers[k].emplace();
            lock.unlock();
            code = std::max(code, answer.code);
            if (into.empty()) {
                print(answer.line + "\n");
            } else if (!(out << answer.line << '\n' << std::flush)) {
                throw base::InputError("--into " + into + ": cannot be written.");
            }
        }
    } catch (...) {
        ends = true;  // the workers end what they have begun
        throw;
    }
    return code;
}

}  // namespace bandwright::app
