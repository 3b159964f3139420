#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "check/check.hpp"
#include "handle.hpp"

/// Designs near one design, checked: what searches for remedies are made of.
namespace bandwright::check {

/// How one rule stands at one place.
struct Standing {
    std::size_t place;  ///< of rule and measure, see placeOf
    Verdict verdict = Verdict::Go;
    double share = 0;  ///< on the good side of its limit, see standing()
};

/// Whether nothing is left of a wall that stood, though thin, or what is too much is twice its limit by now.
bool isGone(const Standing& now, const Standing& was);

/// A number for a rule at a measure. Two may fall together by chance: what is found with it is checked again
/// by name.
std::size_t placeOf(const std::string& rule, const std::string& measure);

/// The findings of a checked design, without their words, sorted by place.
class Outcome {
  public:
    explicit Outcome(const Report& report);

    /// How a rule stands at a place; nullptr when it judges nothing there.
    const Standing* at(std::size_t place) const;
    /// The places at which a rule stands worse than before; a new place is worse than go unless it is go, and
    /// what is gone is worse than a no-go.
    std::vector<std::size_t> worseThan(const Outcome& before) const;
    bool noneWorseThan(const Outcome& before) const;

  private:
    std::vector<Standing> standings_;
};

/// Nothing when no ring can be made of the design. With `resizing` also how far its bore can be opened.
std::optional<Report> reportOf(const design::Design& design, const trade::Catalogue& catalogue,
                               bool resizing = false);

/// About how much longer the check of a ring takes than that of a plain band, by what it has and not by a
/// clock, so that every machine finds the same.
double workOf(const design::Design& design);

/// How many more designs a search checks.
class Allowance {
  public:
    Allowance(const design::Design& design, int checks) : design_(design), left_(checks) {}

    /// As how many a check counts; how far a bore can be opened takes several.
    static constexpr int checksFor(bool resizing) { return resizing ? 10 : 1; }

    /// Nothing when no ring can be made of the design, when it undoes what is measured already, or when the
    /// allowance is spent. With `resizing` also how far its bore can be opened.
    std::optional<Report> report(const design::Design& design, const trade::Catalogue& catalogue,
                                 bool resizing = false);
    int left() const { return left_; }
    /// Counts as spent while no more than this is left.
    void keep(int kept) { kept_ = kept; }
    bool isSpent() const { return left_ <= kept_; }
    /// Rings checked so far.
    int checked() const { return checked_; }

  private:
    const design::Design& design_;
    int left_, kept_ = 0, checked_ = 0;
};

/// Turns the handles of one design, and checks each design once.
class Trials {
  public:
    Trials(const design::Design& design, const trade::Catalogue& catalogue, const Report& report,
           Allowance& allowance, bool resizing = false)
        : design_(design),
          catalogue_(catalogue),
          allowance_(allowance),
          before_(report),
          resizing_(resizing) {}

    const design::Design& design() const { return design_; }
    const trade::Catalogue& catalogue() const { return catalogue_; }
    const Outcome& before() const { return before_; }

    /// With a handle turned so many steps; nullptr when no ring can be made of it.
    const Outcome* turnedBy(const Handle& handle, int steps);
    /// Of any other design, told by a name of its own and made by make() where it is not known.
    template <class Make>
    const Outcome* named(const std::string& name, const Make& make) {
        const auto known = known_.find(name);
        if (known != known_.end()) return known->second ? &*known->second : nullptr;
        return allowance_.isSpent() ? nullptr : kept(name, make());
    }

  private:
    const Outcome* kept(const std::string& name, const std::optional<design::Design>& design);

    const design::Design& design_;
    const trade::Catalogue& catalogue_;
    Allowance& allowance_;
    Outcome before_;
    bool resizing_;
    std::map<std::string, std::optional<Outcome>> known_;
};

/// The fewest steps, up to `most`, at which holds(steps) is true, sought by doubling and halving as if it
/// stayed true from there on; holds gives nothing where no ring can be made.
template <class Holds>
std::optional<int> fewestSteps(int most, Holds holds) {
    int below = 0;  // here it does not hold
    std::optional<int> found;
    for (int steps = 1; steps <= most && !found; steps *= 2) {
        const std::optional<bool> held = holds(steps);
        if (!held) break;
        if (*held) {
            found = steps;
        } else {
            below = steps;
        }
    }
    // Doubling may pass what can be built; the last step before that may still help.
    int above = found ? *found : std::min(most, 2 * std::max(1, below));
    while (above - below > 1) {
        const int middle = (above + below) / 2;
        const std::optional<bool> held = holds(middle);
        if (held && !*held) {
            below = middle;
        } else {
            above = middle;
            if (held) found = middle;
        }
    }
    return found;
}

}  // namespace bandwright::check
