// Values of the job file as rows of a table: a name, and a field that is taken with Enter, when left, or stepped.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "window/app.hpp"

namespace standproud::viewer {

/// The number at the head of a value as it is written: 48, "48 +/- 0.5".
std::optional<double> number_of(const std::optional<std::string>& text);
/// A text value without its quotes; "" for none.
std::string unquoted(const std::optional<std::string>& text);

/// Two columns: names of `name_width` letters' width, and fields.
bool begin_rows(const char* id, float name_width);
/// Begins a row with its name; the field comes next.
void row_name(const std::string& name);

/// A number that is kept under `key` while it is typed; the value when it was taken. `format` as printf has it.
std::optional<double> typed_field(App& app, const std::string& key, double now, const std::string& format,
                                  const std::string& place, bool steps = true);

/// A number of the file. Without one there, `otherwise` is shown and takes its place when changed. `place` names it for
/// tests. True when it was set.
bool number_field(App& app, const std::string& path, double otherwise, const std::string& unit,
                  const std::string& place, bool steps = true);

/// A text of the file; nothing written is "". True when it was set.
bool text_field(App& app, const std::string& path, const std::string& place);

/// A colour of the file, as a square that opens a picker, or `wide` with its digits beside. Without one there, `now` is
/// shown. True when it was set.
bool colour_field(App& app, const std::string& path, Colour now, const std::string& place, bool wide);

/// A row for the colour of sealant: a colour with a cross that takes it out, or what it is without and a button that
/// gives it one, `start`. True when it was set.
bool sealant_row(App& app, const std::string& path, const std::string& otherwise, Colour start,
                 const std::string& place);

/// A small cross behind what can be taken out. True when pressed.
bool take_out_button(App& app, const std::string& id, const std::string& place);

/// One of some words. True when it was set.
bool word_field(App& app, const std::string& path, const std::string& otherwise,
                const std::vector<std::pair<std::string, std::string>>& words, const std::string& place);

}  // namespace standproud::viewer
