#include "route/operation.hpp"

namespace bandwright::route {

std::string name(Instrument instrument) {
    switch (instrument) {
        case Instrument::Rule:
            return "rule";
        case Instrument::Caliper:
            return "caliper";
        case Instrument::Micrometer:
            return "micrometer";
        case Instrument::DepthGauge:
            return "depth gauge";
        case Instrument::BoreGauge:
            return "bore gauge";
        case Instrument::RingMandrel:
            return "ring mandrel";
        case Instrument::PinGauge:
            return "pin gauge";
        case Instrument::BallGauge:
            return "ball gauge";
        case Instrument::Scales:
            return "scales";
        case Instrument::Protractor:
            return "protractor";
    }
    return {};
}

}  // namespace bandwright::route
