// An open job that can be changed: its text, what the text means, the steps done to it, and what is chosen.
// No window and no kernel here: the window's panels call this, and tests drive it alone.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "modeler/parts.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

/// One replacement in the text: at byte `at`, `removed` made way for `inserted`.
struct Splice {
    std::size_t at = 0;
    std::string removed;
    std::string inserted;
};

/// One thing a person did, as it is called in the menu.
struct Step {
    std::string name;             ///< "hot-tap: across 120"
    std::string joins;            ///< steps that follow each other with the same word here are one step; empty: never
    std::vector<Splice> splices;  ///< in the order they were made
};

/// What is chosen. Findings are kept by what they judge, so that the choice lives through an edit.
struct Selection {
    std::optional<std::size_t> finding;  ///< index into the job's findings
    std::string fitting;
    std::string part;
};

struct Document {
    std::filesystem::path file;
    std::string text;               ///< the job file as it would be saved
    std::string saved;              ///< the job file as it was last read or written
    std::optional<CheckedJob> job;  ///< the last text that was good, worked out and judged
    std::vector<Part> parts;        ///< of `job`
    Faults faults;                  ///< of `text`; while there are any, `job` is that of an earlier text
    std::vector<Step> done;
    std::vector<Step> undone;
    Selection selection;
    std::uint64_t generation = 0;  ///< counts the times `job` was replaced
};

/// A command that was not carried out says why; empty when it was. Nothing has changed then.
using Refusal = std::string;

/// Reads a job file; faults in it are kept, not thrown. Throws FileError when it cannot be read.
Document open_document(const std::filesystem::path& file);

// Steps. Each changes the text only where it must: comments, order and spacing elsewhere stay byte for byte.

/// Sets a value by its path: "fittings[2].across", "walls[0].studs.width", "limits.thread.turns". `value` is TOML:
/// 48, "\"left bare\"". A key that is not there yet is added to its table, and for a top-level table so is that.
/// With `joins`, a run of settings (typing, dragging) is one step.
[[nodiscard]] Refusal set_value(Document& document, const std::string& path, const std::string& value,
                                bool joins = false);

/// The same for a number or length, mm; a +/- that is written there stays.
[[nodiscard]] Refusal set_number(Document& document, const std::string& path, double value, bool joins = false);

/// The text written for a value, as it stands in the file; nothing when the key is not there.
std::optional<std::string> value_text(const Document& document, const std::string& path);

/// A text of the file, without its quotes and escapes.
std::optional<std::string> words_at(const Document& document, const std::string& path);

/// A TOML basic string.
std::string toml_string(const std::string& words);
/// 412.5, 412: the shortest text that reads back as the same number.
std::string number_text(double value);

/// Takes a key out, with its line where it has one of its own.
[[nodiscard]] Refusal remove_value(Document& document, const std::string& path);

struct NewFitting {
    std::string id;
    std::string name;
    std::string type;
    std::string wall;
    double across = 0;
    std::string from = "left bare";
    double height = 0;
    std::optional<double> seat;
};
[[nodiscard]] Refusal add_fitting(Document& document, const NewFitting& fitting);
[[nodiscard]] Refusal remove_fitting(Document& document, const std::string& id);

/// Moves a fitting along and up its wall, in the file's own terms; a run of moves is one step.
[[nodiscard]] Refusal move_fitting(Document& document, const std::string& fitting, double across, double height);

/// Where the layers of a wall are written: "walls[1].layers", or "layers" where the wall has none of its own and
/// shares the job's. Thicknesses are set by set_number(document, path + "[0].thickness", mm).
std::string layers_path(const Document& document, std::size_t wall);

/// Joins, by index in the job file. `from` as in the file: "left finished". A run of moves is one step.
[[nodiscard]] Refusal add_join(Document& document, std::size_t wall, double across, const std::string& from);
[[nodiscard]] Refusal remove_join(Document& document, std::size_t wall, std::size_t join);
[[nodiscard]] Refusal move_join(Document& document, std::size_t wall, std::size_t join, double across);

// Lists and tables of the file. What is added is written as its neighbours are: under a header, or in brackets.

/// Keys with their TOML values, as one table holds them.
using Entry = std::vector<std::pair<std::string, std::string>>;

/// Puts a table into a list before the entry `at`, or behind the last: "walls[0].noggins", "layers", "pipes".
[[nodiscard]] Refusal add_entry(Document& document, const std::string& list, std::size_t at, const Entry& entry,
                                const std::string& name);
/// Puts a value into a list in brackets: "walls[0].studs.centres", "pipes[1].points".
[[nodiscard]] Refusal add_item(Document& document, const std::string& list, std::size_t at, const std::string& value,
                               const std::string& name);
/// Takes an entry or a value out of a list.
[[nodiscard]] Refusal remove_entry(Document& document, const std::string& list, std::size_t index,
                                   const std::string& name);
/// A table that is there once: "tray", "walls[0].studs".
[[nodiscard]] Refusal add_table(Document& document, const std::string& path, const Entry& entry,
                                const std::string& name);
[[nodiscard]] Refusal remove_table(Document& document, const std::string& path, const std::string& name);
/// A value of a list in brackets changes places with the one before it.
[[nodiscard]] Refusal move_before(Document& document, const std::string& list, std::size_t index,
                                  const std::string& name);

/// Moves the whole of a pipe, by mm to the right, up, and out of its wall.
[[nodiscard]] Refusal move_pipe(Document& document, const std::string& id, const WallPoint& by);

/// Copies the layers that walls share into a wall, to differ there; and back to the shared ones.
[[nodiscard]] Refusal own_layers(Document& document, std::size_t wall);
[[nodiscard]] Refusal share_layers(Document& document, std::size_t wall);

/// Refuses while anything is on the wall. The order of lining and the tray's list of walls let it go.
[[nodiscard]] Refusal remove_wall(Document& document, std::size_t wall);

/// What one click can do about a finding.
enum class Cure {
    fit_item,   ///< the stocked item that the finding names goes on the fitting
    set_seat,   ///< the seat goes to the middle of the depths that suit every reach finding of the fitting
    move_seat,  ///< the seat goes as little further as does it
    widen_gap,  ///< the gaps of a finding about movement get the width that it names
    move_along  ///< a fitting goes along or up its wall, or a pipe as a whole, until it is clear of what it was too
                ///< near to
};

/// The cures that a finding offers, each with its words: "Fit 15 mm spindle extension".
struct Offer {
    Cure cure = Cure::fit_item;
    std::string words;
    std::size_t move = 0;  ///< of move_along: index into the clash's moves
};
std::vector<Offer> offers(Document& document, std::size_t finding);

/// The finding with what to do about it, looked for when it is first asked for. Must hold: there is such a finding.
const rules::Finding& advised(Document& document, std::size_t finding);
[[nodiscard]] Refusal apply_cure(Document& document, std::size_t finding, Cure cure, std::size_t move = 0);

/// A depth measured after rough-in. `date` as 2026-03-31.
struct Measured {
    double seat = 0;
    std::optional<double> tolerance;
    std::string date;
    std::string by;
};
[[nodiscard]] Refusal set_as_built(Document& document, const std::string& fitting, const Measured& measured);

/// Undo and redo without limit. The names are those of the next step; empty when there is none.
bool undo(Document& document);
bool redo(Document& document);
std::string undo_name(const Document& document);
std::string redo_name(const Document& document);

// Keeping.

bool unsaved(const Document& document);

/// Writes the text whole or not at all. Refuses when somebody else has changed the file since it was read, unless
/// told to write `over`. Throws FileError when it cannot be written.
[[nodiscard]] Refusal save(Document& document, bool over = false);
void save_as(Document& document, const std::filesystem::path& file);

/// Whether the file holds anything else than what was read or written last. A file that is gone has changed.
/// Throws FileError when it cannot be read.
bool changed_on_disk(const Document& document);

/// Takes the file's present text in place of ours, as a step that can be undone. Throws FileError.
void reload(Document& document);

/// Where changes not yet saved are kept: beside the file, ".NAME.unsaved".
std::filesystem::path autosave_path(const std::filesystem::path& file);

/// Keeps the changes beside the file; takes the kept ones away when there are none. Throws FileError.
void autosave(const Document& document);

/// Changes that a session that ended badly left beside the file; nothing when there are none, or they say the same.
/// Throws FileError when they are there and cannot be read.
std::optional<std::string> left_behind(const Document& document);
/// Takes them over, as a step that can be undone. Throws FileError.
void recover(Document& document);
/// Throws them away.
void forget_left_behind(const Document& document);

// Choosing.

void choose_finding(Document& document, std::size_t finding);
/// Chooses a fitting and its worst finding.
void choose_fitting(Document& document, const std::string& fitting);
/// Chooses a part, and where it belongs to a fitting, that.
void choose_part(Document& document, const std::string& part);
void choose_nothing(Document& document);

/// Which findings a list shows. Empty or absent: all.
struct FindingFilter {
    std::string text;  ///< every word of it somewhere in the finding, in any case
    std::optional<Trade> trade;
    std::string wall;
    std::optional<rules::Verdict> verdict;
};

/// Indices into the findings, the worst first, else in the job's order.
std::vector<std::size_t> listed(const CheckedJob& job, const FindingFilter& filter);

/// The index of a fitting in the job file: the N of "fittings[N]"; nothing when there is none.
std::optional<std::size_t> fitting_index(const Document& document, const std::string& id);

}  // namespace standproud::viewer
