// The openings of a wall: windows, doorways, hatches.
#include <fmt/format.h>
#include <imgui.h>

#include "modeler/openings.hpp"
#include "window/entry_form.hpp"
#include "window/value_rows.hpp"
#include "window/wall_rows.hpp"

namespace standproud::viewer {

namespace {

void ask_for_opening(App& app, const std::string& list, std::size_t count) {
    EntryForm form;
    form.title = "Add an opening";
    form.words =
        "A window, doorway or hatch, measured on the bare face: from the left bare corner and above the datum. Sill 0 "
        "for a doorway. With a reveal, strips line it that far behind the bare face.";
    form.fields = {asked_text("id", "short name"),      asked_number("left", "left edge"),
                   asked_number("right", "right edge"), asked_number("bottom", "sill"),
                   asked_number("top", "head"),         asked_number("reveal", "reveal", false)};
    form.done = "Opening added";
    form.take = [&app, list, count](const Entry& entry) {
        return add_entry(*app.document, list, count, entry, "add an opening");
    };
    ask(app, std::move(form));
}

Drawn draw_opening(App& app, std::size_t w, std::size_t k, const WallOpening& opening) {
    const std::string list = fmt::format("walls[{}].openings", w);
    const std::string path = fmt::format("{}[{}]", list, k);
    const bool open = ImGui::TreeNode(fmt::format("{}###{}", opening.name, path).c_str());
    note_place(app, fmt::format("opening {}", k + 1));
    if (!open) return true;
    bool drawn = true;
    if (begin_rows(path.c_str(), row_names)) {
        const auto row = [&](const char* key, const char* name, double now) {
            if (!drawn) return;
            row_name(name);
            drawn = !number_field(app, path + "." + key, now, "mm", fmt::format("opening {} {}", k + 1, key));
        };
        row("left", "left edge", opening.left);
        row("right", "right edge", opening.right);
        row("bottom", "sill", opening.bottom);
        row("top", "head", opening.top);
        if (opening.reveal) row("reveal", "reveal", *opening.reveal);
        row("gap", "gap", gap_of(app.document->job->model.job, opening).width);
        row("corner_radius", "inside corners", opening.corner_radius);
        ImGui::EndTable();
    }
    if (drawn) {
        const bool out = ImGui::Button("Take it out");
        note_place(app, fmt::format("take out opening {}", k + 1));
        if (out)
            outcome(app, remove_entry(*app.document, list, k, fmt::format("take out {}", opening.name)),
                    fmt::format("{} taken out", opening.name));
        drawn = !out;
    }
    ImGui::TreePop();
    return drawn;
}

}  // namespace

Drawn draw_openings(App& app, std::size_t w) {
    const Wall& wall = app.document->job->model.job.walls[w];
    const bool open = ImGui::CollapsingHeader("Openings");
    note_place(app, "openings");
    if (!open) return true;
    for (std::size_t k = 0; k < wall.openings.size(); ++k) {
        if (!draw_opening(app, w, k, wall.openings[k])) return false;
    }
    if (wall.openings.empty()) faint("None.");
    if (ImGui::Button("Add an opening..."))
        ask_for_opening(app, fmt::format("walls[{}].openings", w), wall.openings.size());
    note_place(app, "add opening");
    return true;
}

}  // namespace standproud::viewer
