// Set-out as text, JSON and CSV.
#pragma once

#include <string>
#include <vector>

#include "modeler/setout.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

/// For a person at the bare wall: marks, pairs and noggins of every wall. Ends with a line feed.
std::string text_setout(const CheckedJob& job, const std::vector<WallSetOut>& walls, const TextStyle& style);

/// "standproud-setout/1"; see viewer/setout.schema.json.
std::string json_setout(const CheckedJob& job, const std::vector<WallSetOut>& walls);

/// One line a fitting, RFC 4180: a header, commas, CRLF. Depths are n: negative is behind the bare face.
std::string csv_setout(const CheckedJob& job, const std::vector<WallSetOut>& walls);

}  // namespace standproud::viewer
