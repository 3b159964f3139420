#pragma once

#include <array>
#include <cstddef>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/card_rows.hpp"
#include "app/file_panel.hpp"
#include "app/session.hpp"
#include "app/stand.hpp"
#include "app/theme.hpp"

namespace bandwright::app {

/// What leaves the workshop as a file: the model for another machine, a picture or a
/// turning one, the weights; over the whole
/// window. The files are those of the commands `export`, `picture` and `weigh`, written beside the frames.
class HandOver {
  public:
    HandOver();
    ~HandOver();
    HandOver(const HandOver&) = delete;
    HandOver& operator=(const HandOver&) = delete;

    bool shown() const { return shown_; }
    void open(const Session& session);
    /// Draws over the whole window.
    void draw(const Session& session, const Theme& theme, Painter& painter);

    /// Whether something is being written, so that another frame is needed.
    bool busy() const { return job_ != nullptr; }
    /// How much of it is done, 0..1; nothing while nothing is written.
    std::optional<double> share() const;
    /// What was written, or why not; empty = nothing to tell.
    const std::string& said() const { return said_; }
    /// Whether the papers were asked for. Asking clears it.
    bool takePapersAsked() { return std::exchange(papersAsked_, false); }

    /// Where keys were drawn, by their names: {least x, least y, most x, most y}; rows() has the others.
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }
    const CardRows& rows() const { return rows_; }

  private:
    struct Job;
    struct Choice;

    void choose(std::size_t kind);
    void keys(const Session& session);
    void list(float width);
    void modelRows(const Session& session);
    void pictureRows();
    void turntableRows();
    void asked(const Session& session, float width);
    void told(float width);
    void readParts(const Session& session);
    void askWhere(const Session& session);
    void begin(const Session& session, const std::filesystem::path& file);
    void follow(Painter& painter);
    void stop();
    bool key(const std::string& name, const std::string& text, ImVec2 size, bool isChosen = false);

    const Theme* theme_ = nullptr;
    std::unique_ptr<Choice> choice_;
    std::unique_ptr<Job> job_;  ///< null = nothing is being written
    std::uint64_t revision_ = 0;
    CardRows rows_;
    FilePanel files_;
    std::map<std::string, std::array<float, 4>> places_;
    std::string said_;
    std::filesystem::path folder_;  ///< of what was written last; empty = nothing was
    bool saidIsProblem_ = false;
    bool shown_ = false, papersAsked_ = false;
};

}  // namespace bandwright::app
