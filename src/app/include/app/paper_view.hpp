#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <future>
#include <map>
#include <memory>
#include <optional>
#include <string>

#include "app/file_panel.hpp"
#include "app/papers.hpp"
#include "app/session.hpp"
#include "app/stand.hpp"
#include "app/theme.hpp"
#include "paper/page.hpp"
#include "paper/write.hpp"

namespace bandwright::app {

/// The papers of the ring as they will be printed, page by page, over the whole window; each can be written
/// as a PDF. What takes long is done beside the frames; the pages are painted by the code that writes the
/// files.
class PaperView {
  public:
    PaperView();

    bool shown() const { return shown_; }
    void open(const Session& session, const trade::Workshop& workshop);

    /// Draws over the whole window.
    void draw(const Session& session, const trade::Workshop& workshop, const Theme& theme, Painter& painter);

    /// Whether something is being made, so that another frame is needed.
    bool busy() const { return isBusy_; }

    /// Where keys were drawn, by their names: {least x, least y, most x, most y}.
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }
    /// Of the paper shown; 0 while it is being made.
    std::size_t pages() const { return document_ ? document_->pages.size() : 0; }
    std::size_t page() const { return page_; }
    /// What was written, or why nothing is to be seen; empty = nothing to tell.
    const std::string& said() const { return said_; }

  private:
    enum class Fit : std::uint8_t { Page, Width, Free };

    struct Prepared {
        std::shared_ptr<RingOnPaper> ring;  ///< null = the problem says why not
        scene::Scene scene;
        std::string problem;
    };
    struct Made {
        std::shared_ptr<const paper::Document> document;
        std::string problem;
    };
    struct Drawn {
        std::shared_ptr<const paper::Document> of;
        std::size_t page = 0;
        double pixelsPerMm = 0;
        paper::Raster raster;
        std::string problem;
    };

    void follow(const Session& session, const trade::Workshop& workshop, Painter& painter);
    void prepare(const Session& session, const trade::Workshop& workshop, Painter& painter);
    void make(const Session& session);
    void rasterize(double pixelsPerMm, Painter& painter);
    void choose(PaperKind kind);
    void chooseSheet(paper::Size sheet);
    void choosePrice(bool price);
    void turn(int by);
    void zoomBy(double factor);
    void keys(const Session& session);
    void list(const Session& session, float width);
    void pageBar(float width);
    void sheetOfPaper(Painter& painter);
    void askWhere(const Session& session);
    void write(const std::filesystem::path& file);
    bool key(const std::string& name, const std::string& text, ImVec2 size, bool isChosen = false);

    const Theme* theme_ = nullptr;
    PaperOrder order_;
    std::string said_;
    std::future<Prepared> preparing_;
    Prepared prepared_;
    std::uint64_t revision_ = 0;  ///< of the session, when the ring was made ready
    std::future<Made> making_;
    std::shared_ptr<const paper::Document> document_;
    std::future<Drawn> drawing_;
    Drawn drawn_;
    ImTextureID texture_ = nullptr;
    std::size_t page_ = 0;
    double zoom_ = 4;  ///< pixels of the screen to the mm of paper
    double screenPixelsPerMm_ = 0;
    FilePanel files_;
    std::map<std::string, std::array<float, 4>> places_;
    Fit fit_ = Fit::Page;
    bool shown_ = false, isBusy_ = false;
    bool saidIsProblem_ = false;
    bool hasPicture_ = false;
    bool isMade_ = false;  ///< whether document_ is what order_ asks for, or that is being made
    bool toTop_ = false;   ///< of the page just turned to
};

}  // namespace bandwright::app
