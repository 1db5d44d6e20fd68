#include "window/entry_form.hpp"

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

#include "window/app.hpp"
#include "window/dialog.hpp"
#include "window/value_rows.hpp"

namespace standproud::viewer {

namespace {

std::optional<double> typed_number(const std::string& typed) {
    char* end = nullptr;
    const double value = std::strtod(typed.c_str(), &end);
    const bool whole = end != typed.c_str() && *end == '\0' && std::isfinite(value);
    return whole ? std::optional(value) : std::nullopt;
}

/// What still stands in the way of taking the form, of its first such field.
std::string missing(const EntryForm& form) {
    for (const auto& field : form.fields) {
        if (field.typed.empty() && field.needed) return fmt::format("Still to say: {}", field.name);
        if (field.kind == FormField::Kind::number && !field.typed.empty() && !typed_number(field.typed))
            return fmt::format("{}: \"{}\" is not a number", field.name, field.typed);
    }
    return "";
}

Entry entry_of(const EntryForm& form) {
    Entry entry;
    for (const auto& field : form.fields) {
        if (field.typed.empty()) continue;
        const bool number = field.kind == FormField::Kind::number;
        entry.emplace_back(field.key, number ? number_text(*typed_number(field.typed)) : toml_string(field.typed));
    }
    return entry;
}

void draw_field(App& app, FormField& field, bool first) {
    row_name(field.name);
    ImGui::PushID(field.key.c_str());
    if (field.kind == FormField::Kind::word) {
        const bool open = ImGui::BeginCombo("##word", field.typed.c_str());
        note_place(app, "form " + field.key);
        if (open) {
            for (const auto& word : field.words) {
                if (ImGui::Selectable(word.c_str(), word == field.typed)) field.typed = word;
                note_place(app, fmt::format("form {}: {}", field.key, word));
            }
            ImGui::EndCombo();
        }
    } else {
        if (first && ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
        const bool number = field.kind == FormField::Kind::number;
        const std::string hint = number ? field.unit + (field.needed ? "" : ", may be left out") : "";
        ImGui::InputTextWithHint("##typed", hint.c_str(), &field.typed,
                                 number ? ImGuiInputTextFlags_CharsDecimal : ImGuiInputTextFlags_None);
        note_place(app, "form " + field.key);
    }
    ImGui::PopID();
}

/// Written, read and judged; taken back when the reader finds a fault that was not there before.
Refusal try_it(App& app, const EntryForm& form) {
    Document& document = *app.document;
    const bool good = document.faults.empty();
    const Refusal refusal = form.take(entry_of(form));
    if (!refusal.empty() || !good || document.faults.empty()) return refusal;
    const Fault fault = document.faults.front();
    undo(document);
    document.undone.pop_back();  // it was never done
    return fmt::format("{}{}", fault.says, fault.allowed.empty() ? "" : fmt::format(" (allowed: {})", fault.allowed));
}

}  // namespace

FormField asked_number(const char* key, const char* name, bool needed) {
    return {key, name, FormField::Kind::number, "mm", needed, {}, ""};
}

FormField asked_text(const char* key, const char* name, bool needed) {
    return {key, name, FormField::Kind::text, "", needed, {}, ""};
}

std::string value_of(const Entry& entry, const std::string& key) {
    for (const auto& [name, value] : entry) {
        if (name == key) return value;
    }
    return "";
}

void ask(App& app, EntryForm form) {
    for (auto& field : form.fields) {
        if (field.kind == FormField::Kind::word && field.typed.empty() && !field.words.empty())
            field.typed = field.words.front();
    }
    app.form = std::move(form);
}

void draw_form(App& app) {
    if (!app.form) return;
    if (!begin_dialog(app, app.form->title + "###form", 28)) return;
    const float em = ImGui::GetFontSize();
    EntryForm& form = *app.form;
    if (!form.words.empty()) faint(form.words);
    if (begin_rows("fields", 10)) {
        bool first = true;
        for (auto& field : form.fields) {
            draw_field(app, field, first);
            first = false;
        }
        ImGui::EndTable();
    }
    const std::string still = missing(form);
    if (!form.refused.empty()) {
        ImGui::PushStyleColor(ImGuiCol_Text, app.look.dark ? ImVec4(1, 0.62F, 0.38F, 1) : ImVec4(0.66F, 0.27F, 0, 1));
        ImGui::TextWrapped("%s", form.refused.c_str());
        ImGui::PopStyleColor();
    } else {
        faint(still.empty() ? " " : still);
    }
    ImGui::Spacing();
    ImGui::BeginDisabled(!still.empty());
    bool take = ImGui::Button("Add", ImVec2(6 * em, 0)) || (still.empty() && enter_takes());
    note_place(app, "form add");
    ImGui::EndDisabled();
    ImGui::SameLine();
    const bool stop = ImGui::Button("Cancel", ImVec2(6 * em, 0)) || escaped(app);
    note_place(app, "form cancel");
    if (take) {
        form.refused = try_it(app, form);
        take = form.refused.empty();
        outcome(app, form.refused, form.done);
    }
    if (take || stop) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
    if (take || stop) app.form.reset();
}

}  // namespace standproud::viewer
