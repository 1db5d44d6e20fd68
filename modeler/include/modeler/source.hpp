// Where a value was written, and what is wrong with it if something is.
#pragma once

#include <string>
#include <vector>

namespace standproud {

/// A place in a file that a person wrote. Lines and columns count from 1; line 0 means "no place".
struct Source {
    std::string file;
    int line = 0;
    int column = 0;
};

/// One fault in the input. All faults of a job are collected before anything is refused.
struct Fault {
    Source where;
    std::string key;      ///< the key as written, with its table: "fittings.height"
    std::string found;    ///< the value found, as written; empty when something is missing
    std::string allowed;  ///< what would be accepted
    std::string says;     ///< the fault in a sentence
};

using Faults = std::vector<Fault>;

/// "file:line:column", or "file:line" without a column, or just the file.
std::string to_string(const Source& source);

/// One line: place, sentence, key, value found, what is allowed.
std::string to_string(const Fault& fault);

/// Faults in order of file, line and column, without repeats.
void sort_faults(Faults& faults);

/// The word of `known` nearest to `word` by edit distance, or "" if none is near enough to be a slip of the pen.
std::string nearest_word(const std::string& word, const std::vector<std::string>& known);

}  // namespace standproud
