#include "base/whole_text.hpp"

#include <fstream>
#include <iterator>

#include "base/input_error.hpp"

namespace bandwright::base {

std::string wholeText(const std::filesystem::path& file, const std::string& what) {
    constexpr std::uintmax_t kLargestFile = 4'000'000;
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error)) {
        if (!std::filesystem::exists(file, error))
            throw InputError(file.string() + ": there is no such file of " + what);
        const bool folder = std::filesystem::is_directory(file, error);
        throw InputError(file.string() + ": is a " + (folder ? "folder" : "pipe or a device") +
                         "; a file of " + what + " is needed");
    }
    if (std::filesystem::file_size(file, error) > kLargestFile) {
        throw InputError(file.string() + ": the file is larger than 4 MB, which is the most that is read");
    }
    std::ifstream in(file, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    if (!in.is_open() || in.bad()) throw InputError(file.string() + ": the file cannot be read");
    return text;
}

}  // namespace bandwright::base
