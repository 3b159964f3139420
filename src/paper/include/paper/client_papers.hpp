#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "paper/bench_sheet.hpp"
#include "paper/page.hpp"
#include "route/quote.hpp"

/// Papers for the client, in the client's words.
namespace bandwright::paper {

/// What a client is told of a ring, each a sentence or a few words.
struct ClientWords {
    std::vector<std::pair<std::string, std::string>> facts;  ///< "Band", "titanium ..."; sizes; weight
    std::vector<std::string> know;                           ///< what of the findings concerns who wears it
    std::vector<std::string> care;                           ///< in wear and in cleaning
    std::vector<std::string> later;      ///< what can be done to it later, and what cannot
    std::vector<std::string> emergency;  ///< how it comes off a swollen finger
};
ClientWords clientWords(const Job& job);

/// The card that goes with the ring; the price as text, empty = none.
std::vector<Page> clientCard(const Job& job, const std::string& price, Size sheet);

/// The same as one page of HTML, with the picture inside and nothing to be fetched, to be read on a phone.
std::string clientPage(const Job& job, const std::string& price);

/// What turns the ring in a client's page.
struct Viewer {
    std::string hashes;          ///< of its scripts, as a content security policy names them
    std::string html;            ///< the scripts, to stand at the page's end
    std::string design;          ///< JSON without "<", which could end the element it stands in
    std::string mark;            ///< of the design's text
    std::string materials = {};  ///< the maker's own, like the design; empty = none
};

/// The same with the ring to be turned where the browser can draw it, and its picture where not.
std::string clientPage(const Job& job, const std::string& price, const Viewer& viewer);

/// The quote that the client is given, or with the sums that are the maker's alone.
std::vector<Page> quotePages(const route::Quote& quote, const Picture& picture, bool isInternal, Size sheet);

/// What the ring is, from what was measured, with lines for the mass as weighed and the maker's hand.
std::vector<Page> certificate(const Job& job, Size sheet);

/// What to ask a client and write down before a ring is designed.
std::vector<Page> consultationForm(const trade::Workshop& workshop, const std::string& date, Size sheet);

}  // namespace bandwright::paper
