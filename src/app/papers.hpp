#pragma once

#include <string>

#include "design/design.hpp"
#include "route/quote.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// The commands `sheet`, `card` and the like. Private to the room.
namespace bandwright::app {

struct PaperCall {
    std::string out;
    std::string paper;   ///< empty = as the workshop says
    std::string date;    ///< yyyy-mm-dd; empty = the day the design's file was last changed
    bool price = false;  ///< on the client's card
};

/// Throws InputError before anything is built if the paper cannot be made so.
void requirePaper(const PaperCall& call);

/// Writes the client's card, a PDF or one page of HTML by the ending. With a price where it is asked for and
/// the workshop tells prices or an hourly rate. Throws InputError.
void writeCard(const PaperCall& call, const std::string& file, const design::Design& design,
               const trade::Catalogue& catalogue, const trade::Workshop& workshop);

/// Writes a quote as a PDF, or the maker's own sheet of it. Throws InputError.
void writeQuote(const PaperCall& call, const std::string& file, const design::Design& design,
                const trade::Catalogue& catalogue, const trade::Workshop& workshop, const route::Quote& quote,
                bool isInternal);

/// Writes the certificate of the ring as measured. Throws InputError.
void writeCertificate(const PaperCall& call, const std::string& file, const design::Design& design,
                      const trade::Catalogue& catalogue, const trade::Workshop& workshop);

/// Writes a form to fill in with a client. Throws InputError.
void writeForm(const PaperCall& call, const trade::Workshop& workshop);

/// Writes the bench sheet of the design that was read from `file`, a PDF with the design in it. Throws
/// InputError.
void writeBenchSheet(const PaperCall& call, const std::string& file, const design::Design& design,
                     const trade::Catalogue& catalogue, const trade::Workshop& workshop);

}  // namespace bandwright::app
