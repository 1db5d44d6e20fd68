// As-built figures in place of the design's.
#include <algorithm>

#include "modeler/job.hpp"

namespace standproud {

Job as_fixed(Job job) {
    for (auto& fitting : job.fittings) {
        if (!fitting.as_built) continue;
        const AsBuilt& fixed = *fitting.as_built;
        if (fixed.seat) fitting.seat = fixed.seat;
        if (fixed.across) fitting.across = *fixed.across;
        if (fixed.height) {
            fitting.height = *fixed.height;
            fitting.height_source = fixed.height_source;
        }
    }
    return job;
}

bool has_as_built(const Job& job) {
    return std::any_of(job.fittings.begin(), job.fittings.end(),
                       [](const Fitting& f) { return f.as_built.has_value(); });
}

}  // namespace standproud
