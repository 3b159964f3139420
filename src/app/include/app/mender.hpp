#pragma once

#include <future>
#include <optional>
#include <string>
#include <vector>

#include "app/session.hpp"

namespace bandwright::app {

/// Seeks the changes that leave nothing no-go, beside the frames, so that none waits for it.
class Mender {
  public:
    struct Offer {
        std::optional<design::Design> design;  ///< nothing where no ring without no-go was found
        std::vector<std::string> sentences;    ///< what would be changed, or why nothing can
    };

    /// Begins to seek for the session's ring, with the usual wishes left alone.
    void seek(const Session& session);
    /// Takes in an offer that is ready; drops it when the ring has changed since. Once a frame.
    void follow(const Session& session);
    void drop() { offer_.reset(); }

    bool busy() const { return coming_.valid(); }
    const std::optional<Offer>& offer() const { return offer_; }

  private:
    std::optional<Offer> offer_;
    design::Design of_;
    std::future<Offer> coming_;
};

}  // namespace bandwright::app
