// The text side of STEP files (ISO 10303-21): what the kernel leaves to us.
#pragma once

#include <string>
#include <string_view>

namespace standproud {

/// A whole STEP file whose strings hold raw UTF-8, with those characters in the notation of ISO 10303-21,
/// 6.4.3.3: \X2\....\X0\ for four hex digits each, \X4\........\X0\ beyond U+FFFF. Line breaks that the kernel put
/// inside strings are taken out, as they may stand in the middle of a character.
std::string with_encoded_strings(std::string_view step_file);

}  // namespace standproud
