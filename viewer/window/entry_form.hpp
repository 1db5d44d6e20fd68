// A form that asks for everything a new entry of the job file needs before it is written.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "viewer/state.hpp"

namespace standproud::viewer {

struct App;

struct FormField {
    enum class Kind { number, text, word };
    std::string key;  ///< as the file has it; names the field for tests
    std::string name;
    Kind kind = Kind::number;
    std::string unit = "mm";
    bool needed = true;
    std::vector<std::string> words;  ///< of a word
    std::string typed;               ///< a word has its first one
};

FormField asked_number(const char* key, const char* name, bool needed = true);
FormField asked_text(const char* key, const char* name, bool needed = true);

struct EntryForm {
    std::string title;
    std::string words;  ///< what is asked, in a sentence
    std::vector<FormField> fields;
    /// Takes the fields' values as TOML, those left empty not among them. A reason when they cannot be taken.
    std::function<Refusal(const Entry&)> take;
    std::string done;  ///< for the status line
    std::string refused;
};

/// The value of a key, or "".
std::string value_of(const Entry& entry, const std::string& key);

/// An answer that the job file's reader finds fault with is taken back, and the form says why.
void ask(App& app, EntryForm form);
void draw_form(App& app);

}  // namespace standproud::viewer
