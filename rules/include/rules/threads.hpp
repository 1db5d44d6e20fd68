// Thread pitches.
#pragma once

#include <optional>
#include <string>

namespace standproud::rules {

struct Thread {
    double pitch = 0;  ///< mm
    double major = 0;  ///< mm, on the gauge plane for taper threads
    std::string source;
};

/// "G 1/2" (ISO 228-1 table 1), "R 1/2" and "Rp 1/2" (ISO 7-1 table 1), "M3.5" (ISO 261 coarse, from memory).
/// Spaces do not matter. Nothing for a name that is not in the table.
std::optional<Thread> thread_named(const std::string& name);

}  // namespace standproud::rules
