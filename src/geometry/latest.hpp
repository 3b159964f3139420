#pragma once

#include <atomic>
#include <cstddef>
#include <list>
#include <memory>
#include <mutex>

namespace bandwright::geometry {

/// Values worked out from keys and kept while they are among those asked for last. Asked by several threads
/// at once, each is worked out by one of them, and the others wait for it.
template <class Key, class Value>
class Latest {
  public:
    /// Keeps at most so many, and of them no more than weigh `mostWeight` together; the last one always.
    Latest(std::size_t most, std::size_t mostWeight) : most_(most), mostWeight_(mostWeight) {}

    /// make() gives the value where it is not known, weigh(value) what it counts. What make throws goes on to
    /// whoever asked, and nothing is kept.
    template <class Make, class Weigh>
    std::shared_ptr<const Value> get(const Key& key, const Make& make, const Weigh& weigh) {
        const std::shared_ptr<Entry> entry = entryOf(key);
        const std::lock_guard oneAtATime(entry->making);
        if (entry->value) return entry->value;
        ++made_;
        auto value = std::make_shared<const Value>(make());
        const std::lock_guard lock(listed_);
        entry->weight = weigh(*value);
        entry->value = std::move(value);
        letOldestGo();
        return entry->value;
    }

    /// How many have been worked out since the beginning.
    std::size_t made() const { return made_; }

  private:
    struct Entry {
        explicit Entry(const Key& of) : key(of) {}
        const Key key;
        std::mutex making;
        std::shared_ptr<const Value> value;  ///< behind `making`
        std::size_t weight = 0;              ///< behind listed_
    };

    std::shared_ptr<Entry> entryOf(const Key& key) {
        const std::lock_guard lock(listed_);
        for (auto at = entries_.begin(); at != entries_.end(); ++at) {
            if (!((*at)->key == key)) continue;
            entries_.splice(entries_.begin(), entries_, at);
            return entries_.front();
        }
        entries_.push_front(std::make_shared<Entry>(key));
        return entries_.front();
    }

    void letOldestGo() {
        std::size_t count = 0, weight = 0;
        for (auto at = entries_.begin(); at != entries_.end(); ++at) {
            weight += (*at)->weight;
            if (++count <= most_ && (count == 1 || weight <= mostWeight_)) continue;
            entries_.erase(at, entries_.end());
            return;
        }
    }

    std::size_t most_, mostWeight_;
    std::mutex listed_;
    std::list<std::shared_ptr<Entry>> entries_;  ///< the one asked for last is the first
    std::atomic<std::size_t> made_ = 0;
};

}  // namespace bandwright::geometry
