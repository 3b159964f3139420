#include "app/channel_place.hpp"

#include <cmath>

namespace bandwright::app {

double distanceFrom(Datum datum, const design::Channel& channel, double bandWidth) {
    const double room = (bandWidth - channel.width) / 2;
    switch (datum) {
        case Datum::LeftEdge:
            return room + channel.offset;
        case Datum::RightEdge:
            return room - channel.offset;
        case Datum::Middle:
            break;
    }
    return channel.offset;
}

double offsetAt(Datum datum, double distance, double channelWidth, double bandWidth) {
    const double room = (bandWidth - channelWidth) / 2;
    const double offset = datum == Datum::LeftEdge    ? distance - room
                          : datum == Datum::RightEdge ? room - distance
                                                      : distance;
    constexpr double kPerMm = 1e4;
    return std::round(offset * kPerMm) / kPerMm + 0.0;  // no -0
}

double keptOffset(Datum datum, const design::Design& before, const design::Design& after,
                  std::size_t channel) {
    const design::Channel &was = before.channels.at(channel), &is = after.channels.at(channel);
    if (was.offset != is.offset || (was.width == is.width && before.band.width == after.band.width))
        return is.offset;
    return offsetAt(datum, distanceFrom(datum, was, before.band.width), is.width, after.band.width);
}

}  // namespace bandwright::app
