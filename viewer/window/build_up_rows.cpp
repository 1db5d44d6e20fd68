// The layers of a wall: their names, thicknesses, and which there are.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "rules/words.hpp"
#include "window/entry_form.hpp"
#include "window/value_rows.hpp"
#include "window/wall_rows.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

std::string layer_words(const Layer& layer) { return layer.name.empty() ? to_string(layer.kind) : layer.name; }

/// One bed and one panel at most; the order is boards, membranes, bed, panel.
std::vector<std::string> kinds_to_add(const std::vector<Layer>& layers) {
    std::vector<std::string> words{"board", "membrane"};
    for (const auto kind : {LayerKind::bed, LayerKind::panel}) {
        const bool there = std::any_of(layers.begin(), layers.end(), [&](const Layer& l) { return l.kind == kind; });
        if (!there) words.push_back(to_string(kind));
    }
    return words;
}

std::size_t place_of(const std::vector<Layer>& layers, const std::string& kind) {
    std::size_t place = 0;
    for (std::size_t k = 0; k < layers.size(); ++k) {
        for (const auto each : {LayerKind::board, LayerKind::membrane, LayerKind::bed, LayerKind::panel}) {
            if ("\"" + to_string(each) + "\"" == kind && layers[k].kind <= each) place = k + 1;
        }
    }
    return place;
}

void ask_for_layer(App& app, const std::string& list, const std::vector<Layer>& layers) {
    EntryForm form;
    form.title = "Add a layer";
    form.words =
        "From the bare face out: boards, membranes, one bed, one panel. It goes behind the others of its kind.";
    form.fields = {{"kind", "what it is", FormField::Kind::word, "", true, kinds_to_add(layers), ""},
                   {"name", "name", FormField::Kind::text, "", true, {}, ""},
                   {"thickness", "thickness", FormField::Kind::number, "mm", true, {}, ""},
                   {"plus_minus", "+/-", FormField::Kind::number, "mm", false, {}, ""}};
    form.done = "Layer added";
    form.take = [&app, list, layers](const Entry& answers) {
        const std::string kind = value_of(answers, "kind");
        const std::string band = value_of(answers, "plus_minus");
        const std::string thickness = value_of(answers, "thickness");
        const Entry entry{{"kind", kind},
                          {"name", value_of(answers, "name")},
                          {"thickness", band.empty() ? thickness : fmt::format("\"{} +/- {}\"", thickness, band)}};
        return add_entry(*app.document, list, place_of(layers, kind), entry, "add a layer to " + list);
    };
    ask(app, std::move(form));
}

/// Name, thickness, what it may be off by, and a way to take it out.
Drawn draw_layer(App& app, const Layer& layer, const std::string& path, std::size_t k) {
    const float em = ImGui::GetFontSize();
    row_name(layer_words(layer));
    const auto& tolerance = layer.thickness.tolerance;
    if (ImGui::IsItemHovered()) tooltip(to_string(layer.kind));
    ImGui::SetNextItemWidth(2.9F * em);
    if (number_field(app, path + ".thickness", layer.thickness.value, "", fmt::format("layer {}", k + 1), false))
        return false;
    ImGui::SameLine(0, 0.3F * em);
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("\u00b1");
    ImGui::SameLine(0, 0.3F * em);
    ImGui::SetNextItemWidth(2.3F * em);
    const auto band = typed_field(app, path + " band", tolerance.value_or(0), tolerance ? "%.6g" : "?",
                                  fmt::format("layer {} band", k + 1), false);
    if (ImGui::IsItemHovered())
        tooltip(tolerance ? "May be thicker or thinner by this, mm"
                          : "Not known: verdicts that hang on it stay unknown. Type 0 for exact.");
    if (band) {
        const std::string value = fmt::format("\"{} +/- {}\"", layer.thickness.value, *band);
        const std::string done = fmt::format("{} +/- {}", layer_words(layer), mm(*band));
        outcome(app, set_value(*app.document, path + ".thickness", value), done);
        return false;
    }
    ImGui::SameLine(0, 0.3F * em);
    if (layer.kind == LayerKind::panel) {
        if (colour_field(app, path + ".colour", panel_colour(app, app.wall), "panel colour", false)) return false;
        if (ImGui::IsItemHovered()) tooltip("Its colour, as it is shown");
        ImGui::SameLine(0, 0.3F * em);
    }
    if (take_out_button(app, path, fmt::format("take out layer {}", k + 1))) {
        const std::size_t at = path.rfind('[');
        const std::string done = layer_words(layer) + " taken out";
        outcome(app, remove_entry(*app.document, path.substr(0, at), k, "take out " + layer_words(layer)), done);
        return false;
    }
    return true;
}

/// Where a wall's layers come from: the job's, its own, or none.
Drawn draw_source(App& app, std::size_t w, const std::string& list) {
    Document& document = *app.document;
    const bool shared = list == "layers";
    if (shared && document.job->model.job.walls.size() > 1) {
        faint("Every wall without layers of its own shares these.");
        const bool own = ImGui::Button("Let this wall differ");
        note_place(app, "own layers");
        if (own) outcome(app, own_layers(document, w), "This wall has layers of its own now");
        return !own;
    }
    if (!shared && value_text(document, "layers[0].kind")) {
        const bool back = ImGui::Button("Back to the shared layers");
        note_place(app, "shared layers");
        if (back) outcome(app, share_layers(document, w), "This wall shares the job's layers again");
        return !back;
    }
    return true;
}

}  // namespace

Drawn draw_build_up(App& app, std::size_t w) {
    const Wall& wall = app.document->job->model.job.walls[w];
    const bool not_lined = value_text(*app.document, fmt::format("walls[{}].lined", w)) == "false";
    ImGui::Spacing();
    ImGui::TextDisabled("Build-up from the bare face, mm");
    if (not_lined) {
        faint("This wall is not lined.");
        const bool line = ImGui::Button("Line it");
        note_place(app, "line wall");
        if (line) outcome(app, remove_value(*app.document, fmt::format("walls[{}].lined", w)), "Lined");
        return !line;
    }
    const std::string list = layers_path(*app.document, w);
    if (wall.layers.empty()) faint("No layers: the wall is bare.");
    bool set = false;
    if (!wall.layers.empty() && begin_rows("layers", row_names)) {
        for (std::size_t k = 0; !set && k < wall.layers.size(); ++k)
            set = !draw_layer(app, wall.layers[k], fmt::format("{}[{}]", list, k), k);
        if (!set) {
            double sum = 0;
            double band = 0;
            bool known = true;
            for (const auto& layer : wall.layers) {
                sum += layer.thickness.value;
                band += layer.thickness.tolerance.value_or(0);
                known = known && layer.thickness.tolerance;
            }
            row_name("together");
            ImGui::AlignTextToFramePadding();
            ImGui::Text("%s \u00b1 %s mm", mm(sum).c_str(), known ? mm(band).c_str() : "?");
        }
        ImGui::EndTable();
    }
    if (set) return false;
    if (ImGui::Button("Add a layer...")) ask_for_layer(app, list, wall.layers);
    note_place(app, "add layer");
    if (list == "layers") {
        ImGui::SameLine();
        const bool none = ImGui::Button("Leave it bare");
        note_place(app, "leave bare");
        if (none)
            outcome(app, set_value(*app.document, fmt::format("walls[{}].lined", w), "false"), "This wall stays bare");
        if (none) return false;
    }
    return draw_source(app, w, list);
}

}  // namespace standproud::viewer
