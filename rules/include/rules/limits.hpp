// The limits the rules judge by: rules/limits.toml, with what a job overrides.
#pragma once

#include <map>
#include <string>

#include "modeler/job.hpp"

namespace standproud::rules {

struct Limit {
    std::string name;
    double value = 0;
    std::string unit;
    bool advice = false;  ///< a breach is tight, not a fail
    std::string says;     ///< what it limits
    std::string source;   ///< where the value comes from
    double least = 0;     ///< what an override may be
    double most = 0;
    bool overridden = false;
    double standard = 0;  ///< the value before it was overridden
    Source overridden_at;
};

using Limits = std::map<std::string, Limit>;

/// The limits that ship with the program, with the job's overrides. Unknown names and values out of range
/// are added to `faults`.
Limits limits_for(const Job& job, Faults& faults);

}  // namespace standproud::rules
