// An earlier state of a job beside the open one: what moved, and which verdicts changed.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "viewer/state.hpp"

namespace standproud::viewer {

struct Earlier {
    std::filesystem::path file;
    CheckedJob job;
    std::vector<Part> parts;  ///< of fittings and pipes only: walls are not drawn twice
};

/// Reads and judges it. Nothing and the reason, with its line, when it has faults or cannot be read.
std::optional<Earlier> open_earlier(const std::filesystem::path& file, std::string& why);

/// From the earlier state to the open one, as `standproud compare` has it. Must hold: the document's job is there.
rules::Comparison changes_since(const Earlier& earlier, const Document& document);

/// The earlier solids of what moved or is gone: ghosts to be drawn.
std::vector<Part> old_places(const Earlier& earlier, const rules::Comparison& changes);

/// From where a fitting was to where it is, on the finished face, in the room.
struct Shift {
    std::string fitting;
    RoomPoint from;
    RoomPoint to;
};
std::vector<Shift> shifts(const Earlier& earlier, const Document& document, const rules::Comparison& changes);

/// "100 mm to the right; 20 mm up", "is new".
std::string moved_words(const rules::FittingChange& change);
std::string moved_words(const rules::OpeningChange& change);

}  // namespace standproud::viewer
