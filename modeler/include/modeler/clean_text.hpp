// Text from outside, made fit to be shown.
#pragma once

#include <string>
#include <string_view>

namespace standproud {

/// `text` as valid UTF-8 on one line. What steers instead of being seen becomes a space: controls (C0, C1), breaks of
/// lines, what turns the direction of writing (U+202A to U+202E, U+2066 to U+2069), and what is no character. Wrong
/// bytes become U+FFFD.
std::string clean_text(std::string_view text);

/// Takes one character off the front of `text`, which must not be empty. A byte that starts none, or an overlong or
/// surrogate code, is U+FFFD.
char32_t take_character(std::string_view& text);

}  // namespace standproud
