#include "app/mender.hpp"

#include <chrono>
#include <exception>

#include "app/report_text.hpp"
#include "base/wording.hpp"
#include "check/mend.hpp"
#include "design/field_table.hpp"
#include "design/measured.hpp"
#include "geometry/measured.hpp"

namespace bandwright::app {

namespace {

/// "the width of the band and the depth of the channel" of what the client asked for.
std::string lockedInWords(const design::Design& design) {
    std::vector<std::string> phrases;
    for (const std::string& path : design.locked)
        phrases.push_back(design::fieldAt(design, path)->phrase);
    return base::listed(phrases);
}

Mender::Offer offerFor(const design::Design& plan, const trade::Catalogue& catalogue) {
    try {
        const design::Design made = geometry::asMeasured(plan);
        const check::Mended mended = check::mend(made, catalogue, check::usualWishes());
        Mender::Offer offer;
        if (mended.report.verdict == check::Verdict::NoGo) {
            offer.sentences = {
                "No ring without no-go was found with this finger, width, metal, these stones "
                "and fillers" +
                (made.locked.empty() ? "" : ", and with what is locked: " + lockedInWords(made)) + "."};
            return offer;
        }
        offer.design = design::replanned(plan, made, mended.design);
        offer.sentences = mendingSentences(mended, catalogue);
        return offer;
    } catch (const std::exception& error) {
        return {std::nullopt, {error.what()}};
    }
}

}  // namespace

void Mender::seek(const Session& session) {
    if (busy()) return;
    of_ = session.design();
    // Copies, because the session goes on meanwhile.
    coming_ = std::async(std::launch::async,
                         [plan = of_, catalogue = session.catalogue()] { return offerFor(plan, catalogue); });
}

void Mender::follow(const Session& session) {
    if (coming_.valid() && coming_.wait_for(std::chrono::seconds(0)) == std::future_status::ready)
        offer_ = coming_.get();
    if (offer_ && of_ != session.design()) offer_.reset();
}

}  // namespace bandwright::app
