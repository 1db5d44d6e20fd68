#include "window/value_rows.hpp"

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <cmath>

#include "rules/words.hpp"

namespace standproud::viewer {

std::optional<double> number_of(const std::optional<std::string>& text) {
    if (!text) return std::nullopt;
    const std::size_t begin = text->find_first_not_of("\"' ");
    if (begin == text->npos) return std::nullopt;
    std::string digits;
    for (const char c : text->substr(begin)) {
        if (c != '_') digits += c;  // 1_200 is 1200 in TOML
    }
    try {
        return std::stod(digits);
    } catch (const std::exception&) {
        return std::nullopt;
    }
}

std::string unquoted(const std::optional<std::string>& text) {
    if (!text || text->size() < 2) return "";
    return text->substr(1, text->size() - 2);
}

bool begin_rows(const char* id, float name_width) {
    if (!ImGui::BeginTable(id, 2)) return false;
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, name_width * ImGui::GetFontSize());
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch);
    return true;
}

void row_name(const std::string& name) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    ImGui::TextWrapped("%s", name.c_str());
    ImGui::TableNextColumn();
    ImGui::SetNextItemWidth(-1);
}

std::optional<double> typed_field(App& app, const std::string& key, double now, const std::string& format,
                                  const std::string& place, bool steps) {
    const Document& document = *app.document;
    const std::string of = fmt::format("{} {}", document.generation, document.done.size());
    NumberDraft& draft = app.numbers[key];
    // What is typed is kept while it is typed; any other change of the text is read again.
    if (draft.of != of) draft = {of, now};
    const double step = 1;
    const double large = 10;
    ImGui::PushID(key.c_str());
    ImGui::InputScalar("##number", ImGuiDataType_Double, &draft.value, steps ? &step : nullptr,
                       steps ? &large : nullptr, format.c_str());
    note_place(app, place);
    const bool taken = ImGui::IsItemDeactivatedAfterEdit() && std::isfinite(draft.value);
    ImGui::PopID();
    return taken ? std::optional(draft.value) : std::nullopt;
}

bool number_field(App& app, const std::string& path, double otherwise, const std::string& unit,
                  const std::string& place, bool steps) {
    Document& document = *app.document;
    const double now = number_of(value_text(document, path)).value_or(otherwise);
    const auto value = typed_field(
        app, path, now, unit.empty() ? "%.6g" : fmt::format("%.6g {}", unit == "%" ? "%%" : unit), place, steps);
    if (!value) return false;
    outcome(app, set_number(document, path, *value, true), fmt::format("{} {}", place, rules::mm(*value)));
    return true;
}

bool text_field(App& app, const std::string& path, const std::string& place) {
    Document& document = *app.document;
    const std::string of = fmt::format("{} {}", document.generation, document.done.size());
    TextDraft& draft = app.texts[path];
    if (draft.of != of) draft = {of, words_at(document, path).value_or("")};
    ImGui::PushID(path.c_str());
    ImGui::InputText("##text", &draft.value);
    note_place(app, place);
    const bool taken = ImGui::IsItemDeactivatedAfterEdit();
    ImGui::PopID();
    if (!taken) return false;
    outcome(app, set_value(document, path, toml_string(draft.value)), fmt::format("{}: {}", place, draft.value));
    return true;
}

bool colour_field(App& app, const std::string& path, Colour now, const std::string& place, bool wide) {
    Document& document = *app.document;
    const std::string of = fmt::format("{} {}", document.generation, document.done.size());
    ColourDraft& draft = app.colours[path];
    const auto share = [](int part) { return static_cast<float>(part) / 255; };
    if (draft.of != of) draft = {of, {share(now.red), share(now.green), share(now.blue)}};
    ImGui::PushID(path.c_str());
    ImGui::ColorEdit3("##colour", draft.value.data(),
                      ImGuiColorEditFlags_NoLabel | ImGuiColorEditFlags_DisplayHex | ImGuiColorEditFlags_InputRGB |
                          ImGuiColorEditFlags_NoOptions | (wide ? 0 : ImGuiColorEditFlags_NoInputs));
    note_place(app, place);
    const bool taken = ImGui::IsItemDeactivatedAfterEdit();
    ImGui::PopID();
    if (!taken) return false;
    const auto part = [&](std::size_t i) { return static_cast<int>(std::lround(255 * draft.value[i])); };
    const std::string words = to_string(Colour{part(0), part(1), part(2)});
    outcome(app, set_value(document, path, toml_string(words)), fmt::format("{}: {}", place, words));
    return true;
}

bool sealant_row(App& app, const std::string& path, const std::string& otherwise, Colour start,
                 const std::string& place) {
    Document& document = *app.document;
    const auto written = words_at(document, path);
    const auto colour = written ? read_colour(*written) : std::nullopt;
    row_name("sealant");
    bool set = false;
    if (colour) {
        ImGui::SetNextItemWidth(-2.2F * ImGui::GetFontSize());
        set = colour_field(app, path, *colour, place, true);
    } else {
        const bool give = ImGui::Button(fmt::format("{}...", written.value_or(otherwise)).c_str());
        note_place(app, place);
        if (ImGui::IsItemHovered()) tooltip("Choose a colour");
        if (give) outcome(app, set_value(document, path, toml_string(to_string(start))), "Sealed in a colour");
        set = give;
    }
    if (!set && written) {
        ImGui::SameLine(0, 0.3F * ImGui::GetFontSize());
        set = take_out_button(app, path, "no " + place);
        if (set) outcome(app, remove_value(document, path), fmt::format("sealant {}", otherwise));
    }
    return set;
}

bool take_out_button(App& app, const std::string& id, const std::string& place) {
    ImGui::PushID(id.c_str());
    const bool pressed = ImGui::Button("\u00d7");
    note_place(app, place);
    if (ImGui::IsItemHovered()) tooltip("Take it out");
    ImGui::PopID();
    return pressed;
}

bool word_field(App& app, const std::string& path, const std::string& otherwise,
                const std::vector<std::pair<std::string, std::string>>& words, const std::string& place) {
    const auto written = value_text(*app.document, path);
    const std::string now = written ? unquoted(written) : otherwise;
    std::string shown = now;
    for (const auto& [word, says] : words) shown = word == now ? says : shown;
    ImGui::PushID(path.c_str());
    bool taken = false;
    const bool open = ImGui::BeginCombo("##word", shown.c_str());
    note_place(app, place);
    if (open) {
        for (const auto& [word, says] : words) {
            const bool chosen = ImGui::Selectable(says.c_str(), word == now);
            note_place(app, place + ": " + says);
            if (!chosen || word == now) continue;
            outcome(app, set_value(*app.document, path, fmt::format("\"{}\"", word)),
                    fmt::format("{}: {}", place, says));
            taken = true;
        }
        ImGui::EndCombo();
    }
    ImGui::PopID();
    return taken;
}

}  // namespace standproud::viewer
