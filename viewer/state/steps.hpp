// How every command changes a document: one named step of splices, after which the job is judged again.
#pragma once

#include "state/write_value.hpp"
#include "viewer/state.hpp"

namespace standproud::viewer {

/// Reads, works out and judges the present text. With faults, the last good job stays.
void judge_again(Document& document);

/// Carries a step out. It must leave the text readable as TOML: else nothing is done, and the reason comes back.
Refusal take_step(Document& document, Step step);

/// Makes a change of a text on its way to a step, whose splices are kept; a reason when it cannot be made.
Refusal carry_on(std::string& text, Step& step, const Change& change);

/// A step that replaces the whole text, whatever that text is.
void take_text(Document& document, const std::string& name, const std::string& text);

/// Remarks and empty lines just before the next table belong to that table: the end of a block without them.
std::size_t without_remarks_at_end(const Places& places, std::size_t begin, std::size_t end);

/// The least splice that turns one text into another.
Splice difference(const std::string& from, const std::string& to);

}  // namespace standproud::viewer
