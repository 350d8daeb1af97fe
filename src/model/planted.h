// How often the fitness of a recording finds faults that were planted on purpose.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace becalm {

struct PlantedKind {
    std::string code = {};     // of the finding that is expected; empty: sound recordings
    std::string severity = {}; // what was planted, from where to where
    int planted = 0;
    int found = 0;        // on the channel it was planted on
    int at_the_place = 0; // of those found: within a second of where it was planted; 0 where it has no place
    bool has_place = false;
    int false_alarms = 0; // recordings of this kind with another caution or refusal, or on a sound channel
};

struct MissedFault {
    int recording = 0; // of the series, from 1
    std::string code = {};
    std::string setting = {};
    std::string what = {}; // missed, or the finding that should not be there
};

struct PlantedReport {
    int recordings = 0;
    std::uint64_t seed = 0;
    std::vector<PlantedKind> kinds = {};
    std::vector<MissedFault> missed = {}, false_alarms = {};

    int planted() const
    {
        int sum = 0;
        for (const PlantedKind& kind : kinds) sum += kind.code.empty() ? 0 : kind.planted;
        return sum;
    }
    int found() const
    {
        int sum = 0;
        for (const PlantedKind& kind : kinds) sum += kind.found;
        return sum;
    }
    int accused() const
    {
        int sum = 0;
        for (const PlantedKind& kind : kinds) sum += kind.false_alarms;
        return sum;
    }
};

} // namespace becalm
