#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "check/check.hpp"
#include "design/design.hpp"
#include "paper/bench_sheet.hpp"
#include "paper/page.hpp"
#include "route/plan.hpp"
#include "scene/scene.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// The papers that the program writes of a ring, the same from the command line and from the window.
namespace bandwright::app {

enum class PaperKind : std::uint8_t {
    Section,
    BenchSheet,
    BriefSheet,
    Card,
    Quote,
    OwnQuote,
    Certificate,
    Form
};
inline constexpr int kPaperKinds = 8;

/// A ring and what papers tell of it.
struct RingOnPaper {
    design::Design made;  ///< as measured so far
    trade::Catalogue catalogue;
    trade::Workshop workshop;
    check::Report report;
    route::Plan plan;
    paper::Picture picture;
};

/// Checks the ring and plans its work; the picture is still to be drawn. Throws InputError.
RingOnPaper readyForPaper(design::Design made, const trade::Catalogue& catalogue,
                          const trade::Workshop& workshop);

/// What a paper shows of the ring, and how large, in pixels.
scene::Scene pictureOnPaper(const design::Design& made, const trade::Catalogue& catalogue);
inline constexpr scene::Size kPictureOnPaper{1000, 640};

struct PaperOrder {
    PaperKind kind = PaperKind::BenchSheet;
    paper::Size sheet = paper::kA4;
    std::string date;    ///< yyyy-mm-dd; empty = none, but a quote is then of today
    bool price = false;  ///< on the client's card
    design::Stage stage = design::Stage::Finished;  ///< of the section drawing
};

/// The pages of a paper, with its title; what is attached is the caller's. A form tells of no ring. Throws
/// InputError.
paper::Document documentOf(const PaperOrder& order, const RingOnPaper& ring);

/// The sheet that the workshop prints on.
paper::Size sheetOf(const trade::Workshop& workshop);

/// How a paper is asked for on the command line.
struct PaperCall {
    std::string out;
    std::string paper;   ///< empty = as the workshop says
    std::string date;    ///< yyyy-mm-dd; empty = the day the design's file was last changed
    bool price = false;  ///< on the client's card
    bool brief = false;  ///< of the bench sheet: one table
};

/// Throws InputError before anything is built if the paper cannot be made so.
void requirePaper(const PaperCall& call);

/// Writes the paper of the design that was read from `file`: a PDF with the design in it, or of a client's
/// card one page of HTML by the ending. Throws InputError.
void writePaper(PaperKind kind, const PaperCall& call, const std::string& file, const design::Design& made,
                const trade::Catalogue& catalogue, const trade::Workshop& workshop);

/// Throws InputError where the pieces that turn the ring in a client's page were not built.
void requireViewer();

/// Writes the client's card as a page in which the ring can be turned; `materials` is the maker's own file,
/// empty = none. Throws InputError.
void writeClientPage(const PaperCall& call, const std::string& file, const std::string& materials,
                     const design::Design& made, const trade::Catalogue& catalogue,
                     const trade::Workshop& workshop);

/// Writes a form to fill in with a client, which tells of no ring. Throws InputError.
void writeForm(const PaperCall& call, const trade::Catalogue& catalogue, const trade::Workshop& workshop);

}  // namespace bandwright::app
