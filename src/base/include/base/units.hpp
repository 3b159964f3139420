#pragma once

/// Types for the seams where two units of one quantity meet, so that neither is taken for the other.
/// Everything else is in the units that DEVELOPERS.md names.
namespace bandwright::base {

/// A length in micrometres. Made from a number only where the word is written out.
class Micrometres {
  public:
    constexpr explicit Micrometres(double count) : count_(count) {}
    static constexpr Micrometres ofMm(double mm) { return Micrometres(kPerMm * mm); }

    constexpr double count() const { return count_; }
    constexpr double mm() const { return count_ / kPerMm; }

  private:
    static constexpr double kPerMm = 1000;
    double count_;
};

}  // namespace bandwright::base
