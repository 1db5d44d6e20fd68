// Saving, autosave and recovery, and files changed by others.
#include <fmt/format.h>

#include "modeler/files.hpp"
#include "state/steps.hpp"

namespace standproud::viewer {

namespace {

std::optional<std::string> read_if_there(const std::filesystem::path& file) {
    if (!is_there(file)) return std::nullopt;
    return read_whole(file);
}

}  // namespace

bool unsaved(const Document& document) { return document.text != document.saved; }

bool changed_on_disk(const Document& document) {
    const auto now = read_if_there(document.file);
    return !now || *now != document.saved;
}

Refusal save(Document& document, bool over) {
    if (!over && changed_on_disk(document)) {
        return fmt::format("{} was changed by another program since it was read here", document.file.string());
    }
    write_whole(document.file, document.text);
    document.saved = document.text;
    forget_left_behind(document);
    return "";
}

void save_as(Document& document, const std::filesystem::path& file) {
    write_whole(file, document.text);
    forget_left_behind(document);
    document.file = file;
    document.saved = document.text;
    judge_again(document);  // messages and catalogues go by the file's name
}

void reload(Document& document) {
    const std::string text = read_whole(document.file);
    document.saved = text;
    take_text(document, "take the file as it is on disk", text);
}

std::filesystem::path autosave_path(const std::filesystem::path& file) {
    return file.parent_path() / fmt::format(".{}.unsaved", file.filename().string());
}

void autosave(const Document& document) {
    if (!unsaved(document)) {
        forget_left_behind(document);
        return;
    }
    write_whole(autosave_path(document.file), document.text);
}

std::optional<std::string> left_behind(const Document& document) {
    const auto kept = read_if_there(autosave_path(document.file));
    if (!kept || *kept == document.text) return std::nullopt;
    return kept;
}

void recover(Document& document) {
    const auto kept = left_behind(document);
    if (kept) take_text(document, "take over unsaved changes", *kept);
}

void forget_left_behind(const Document& document) {
    std::error_code ignored;
    std::filesystem::remove(autosave_path(document.file), ignored);
}

}  // namespace standproud::viewer
