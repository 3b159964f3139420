#pragma once

#include <array>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "app/file_panel.hpp"
#include "app/theme.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"
#include "trade/workshop_fields.hpp"

namespace bandwright::app {

/// The maker's workshop as a card over the whole window: a line for each thing it can tell, typed as
/// trade/workshop_fields.hpp reads it. What is not told says what goes without it. Has its own undo, and its
/// own file.
class WorkshopCard {
  public:
    /// A workshop that was read from the file; without one it is in no file yet.
    WorkshopCard(trade::Workshop workshop, std::filesystem::path file);

    bool shown() const { return shown_; }
    void open() { shown_ = true; }
    /// Draws over the whole window; materials are held against the catalogue.
    void draw(const trade::Catalogue& catalogue, const Theme& theme);

    const trade::Workshop& workshop() const { return workshop_; }
    const std::filesystem::path& file() const { return file_; }
    bool unsaved() const { return workshop_ != saved_; }

    /// These limits from now on; in the file at once where all else is. Returns why they cannot be written,
    /// or nothing.
    std::string keepLimits(std::vector<trade::OwnLimit> limits);

    /// Whether all is in a file after this; asks for one where there is none, and then it is not yet.
    bool save();
    /// Changes that are in no file are given up.
    void letGo() { workshop_ = saved_; }

    /// Where each row's box and each key was drawn, by "drills", "stock[1]", "save".
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }
    /// The sentence under a row, or empty; of the whole card by "".
    std::string refusal(const std::string& place) const;

  private:
    struct Refused {
        std::string typed, sentence;
    };

    void change(trade::Workshop next);
    void undo();
    void redo();
    void read(const std::filesystem::path& file, const trade::Catalogue& catalogue);
    void write(const std::filesystem::path& file);
    void keys();
    void head(float width);
    void rows(const trade::Catalogue& catalogue, float width);
    void row(const trade::WorkshopField& field, std::size_t entry, const std::string& form,
             const trade::Catalogue& catalogue, float width);
    void take(const trade::WorkshopField& field, std::size_t entry, const std::string& place,
              const std::string& typed, const trade::Catalogue& catalogue);
    bool key(const std::string& name, const char* text, bool isEnabled = true);

    const Theme* theme_ = nullptr;
    trade::Workshop workshop_, saved_;
    std::filesystem::path file_;
    std::vector<trade::Workshop> past_, future_;
    std::string editing_, buffer_;  ///< the row being typed in, and what is typed there
    std::map<std::string, Refused> refused_;
    std::string said_;
    FilePanel files_;
    std::map<std::string, std::array<float, 4>> places_;
    bool shown_ = false;
    bool savesNext_ = false;  ///< once what was being typed is taken in
};

}  // namespace bandwright::app
