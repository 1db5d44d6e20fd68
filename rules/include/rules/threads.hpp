// Threads, from rules/threads.toml.
#pragma once

#include <optional>
#include <string>

namespace standproud::rules {

/// How far a taper male thread goes in, mm: its useful thread, on the basic, the shortest and the longest gauge length.
struct TaperReach {
    double basic = 0;
    double least = 0;
    double most = 0;
};

struct Thread {
    double pitch = 0;  ///< mm
    double major = 0;  ///< mm, on the gauge plane for taper threads
    std::string source;
    std::optional<TaperReach> taper;  ///< where the male thread is a taper one
};

/// "G 1/2" (ISO 228-1 table 1), "R 1/2" and "Rp 1/2" (ISO 7-1 table 1; the male thread is a taper one), "M3.5" (ISO 261
/// coarse, from memory). Spaces do not matter. Nothing for a name that is not in the table.
std::optional<Thread> thread_named(const std::string& name);

}  // namespace standproud::rules
