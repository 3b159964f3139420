#pragma once

#include <string>

#include "app/report_text.hpp"
#include "route/quote.hpp"

/// Quotes as text for people and as JSON for programs. UTF-8.
namespace bandwright::app {

/// The client's: the ring, its price, the tax, the total and how long it stands. With `internal` the maker's
/// own sheet follows: materials, waste, work and margin, so that it can be added up again by hand. Ends with
/// a newline.
std::string quoteText(const route::Quote& quote, bool internal, const TextStyle& style = {});

/// The object that `quote --json` prints: the client's fields, and with `internal` the sheet. Money is text
/// with two decimals. Ends with a newline.
std::string quoteJson(const route::Quote& quote, bool internal);

}  // namespace bandwright::app
