// Pipes, cables and screens of a wall.
#include <fmt/format.h>
#include <imgui.h>

#include "rules/words.hpp"
#include "window/entry_form.hpp"
#include "window/value_rows.hpp"
#include "window/wall_rows.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

const std::vector<std::string> pipe_kinds{"cold", "hot", "waste", "cable"};

void ask_for_pipe(App& app, const std::string& wall, std::size_t count) {
    EntryForm form;
    form.title = "Add a pipe or cable";
    form.words =
        "Places from the left bare corner, above the datum, and from the bare face: minus is into the wall. "
        "Bends are added afterwards.";
    form.fields = {asked_text("id", "short name"),
                   {"kind", "what it is", FormField::Kind::word, "", true, pipe_kinds, ""},
                   asked_number("diameter", "diameter"),
                   asked_number("bend_radius", "bend radius", false),
                   asked_number("plus_minus", "where it runs, +/-"),
                   asked_number("u1", "begins across"),
                   asked_number("v1", "begins at height"),
                   asked_number("n1", "begins at depth"),
                   asked_number("u2", "ends across"),
                   asked_number("v2", "ends at height"),
                   asked_number("n2", "ends at depth")};
    form.done = "Pipe added";
    form.take = [&app, wall, count](const Entry& a) {
        Entry entry{{"id", value_of(a, "id")},
                    {"kind", value_of(a, "kind")},
                    {"wall", toml_string(wall)},
                    {"diameter", value_of(a, "diameter")}};
        if (!value_of(a, "bend_radius").empty()) entry.emplace_back("bend_radius", value_of(a, "bend_radius"));
        entry.emplace_back("plus_minus", value_of(a, "plus_minus"));
        entry.emplace_back("points",
                           fmt::format("[[{}, {}, {}], [{}, {}, {}]]", value_of(a, "u1"), value_of(a, "v1"),
                                       value_of(a, "n1"), value_of(a, "u2"), value_of(a, "v2"), value_of(a, "n2")));
        return add_entry(*app.document, "pipes", count, entry, "add pipe " + value_of(a, "id"));
    };
    ask(app, std::move(form));
}

void ask_for_screen(App& app, const std::string& wall, std::size_t count) {
    EntryForm form;
    form.title = "Add a screen or door";
    form.words = "Where it stands on the wall, how far it comes out, and how far a door swings.";
    form.fields = {asked_text("id", "short name"),
                   asked_number("across", "across"),
                   {"from",
                    "counted from",
                    FormField::Kind::word,
                    "",
                    true,
                    {"left bare", "left finished", "right bare", "right finished", "centre"},
                    ""},
                   asked_number("width", "width, out"),
                   asked_number("thickness", "thickness"),
                   asked_number("bottom", "lower edge"),
                   asked_number("top", "upper edge"),
                   {"profile", "width of its holder", FormField::Kind::number, "mm", false, {}, ""},
                   {"swing_left", "swings left", FormField::Kind::number, "degrees", false, {}, ""},
                   {"swing_right", "swings right", FormField::Kind::number, "degrees", false, {}, ""}};
    form.done = "Screen added";
    form.take = [&app, wall, count](const Entry& answers) {
        Entry entry = answers;
        entry.insert(entry.begin() + 1, {"wall", toml_string(wall)});
        return add_entry(*app.document, "screens", count, entry, "add screen " + value_of(answers, "id"));
    };
    ask(app, std::move(form));
}

void ask_for_bend(App& app, const std::string& list, std::size_t count) {
    EntryForm form;
    form.title = "Add a bend";
    form.words = fmt::format("The pipe runs through it between point {} and its last.", count - 1);
    form.fields = {asked_number("u", "across"), asked_number("v", "height"), asked_number("n", "depth")};
    form.done = "Bend added";
    form.take = [&app, list, count](const Entry& a) {
        return add_item(*app.document, list, count - 1,
                        fmt::format("[{}, {}, {}]", value_of(a, "u"), value_of(a, "v"), value_of(a, "n")),
                        "add a bend");
    };
    ask(app, std::move(form));
}

Drawn draw_point(App& app, const std::string& list, std::size_t k, const PipeRun& pipe) {
    const float em = ImGui::GetFontSize();
    const WallPoint& point = pipe.points[k];
    const std::array<double, 3> values{point.u, point.v, point.n};
    ImGui::PushID(static_cast<int>(k));
    bool set = false;
    for (std::size_t axis = 0; !set && axis < 3; ++axis) {
        if (axis > 0) ImGui::SameLine(0, 0.2F * em);
        ImGui::SetNextItemWidth(3.7F * em);
        const std::string path = fmt::format("{}[{}][{}]", list, k, axis);
        const auto value =
            typed_field(app, path, values[axis], "%.6g", fmt::format("point {} {}", k + 1, "uvn"[axis]), false);
        if (ImGui::IsItemHovered())
            tooltip(axis == 0   ? "Across, from the left bare corner, mm"
                    : axis == 1 ? "Above the datum, mm"
                                : "From the bare face, mm: minus is into the wall");
        if (!value) continue;
        outcome(app, set_number(*app.document, path, *value, true), fmt::format("{}: point {}", pipe.id, k + 1));
        set = true;
    }
    if (!set && pipe.points.size() > 2) {
        ImGui::SameLine(0, 0.2F * em);
        if (take_out_button(app, "out", fmt::format("take out point {}", k + 1))) {
            outcome(app, remove_entry(*app.document, list, k, fmt::format("{}: take out point {}", pipe.id, k + 1)),
                    fmt::format("{}: point {} taken out", pipe.id, k + 1));
            set = true;
        }
    }
    ImGui::PopID();
    return !set;
}

Drawn draw_pipe(App& app, std::size_t i, const PipeRun& pipe) {
    const std::string path = fmt::format("pipes[{}]", i);
    const bool open = ImGui::TreeNode(path.c_str(), "%s, %s mm", pipe.name.c_str(), mm(pipe.diameter).c_str());
    note_place(app, "pipe " + pipe.id);
    if (!open) return true;
    bool set = false;
    if (begin_rows("pipe", row_names)) {
        row_name("what it is");
        set = word_field(app, path + ".kind", "cold",
                         {{"cold", "cold"}, {"hot", "hot"}, {"waste", "waste"}, {"cable", "cable"}}, "pipe kind");
        const std::array<std::tuple<const char*, const char*, double>, 3> rows{
            {{"diameter", "diameter", pipe.diameter},
             {"bend_radius", "bend radius", pipe.bend_radius},
             {"plus_minus", "runs +/-", pipe.plus_minus}}};
        for (const auto& [key, name, now] : rows) {
            if (set) break;
            row_name(name);
            set = number_field(app, path + "." + key, now, "mm", fmt::format("pipe {}", key));
        }
        ImGui::EndTable();
    }
    if (!set) faint("Through these points: across, height, depth");
    for (std::size_t k = 0; !set && k < pipe.points.size(); ++k) set = !draw_point(app, path + ".points", k, pipe);
    if (!set) {
        if (ImGui::Button("Add a bend...")) ask_for_bend(app, path + ".points", pipe.points.size());
        note_place(app, "add bend");
        ImGui::SameLine();
        if (ImGui::Button("Take it out")) {
            const std::string id = pipe.id;
            outcome(app, remove_entry(*app.document, "pipes", i, "take out " + id), id + " taken out");
            set = true;
        }
        note_place(app, "take out pipe " + std::to_string(i + 1));
    }
    ImGui::TreePop();
    return !set;
}

Drawn draw_screen(App& app, std::size_t i, const Screen& screen) {
    const std::string path = fmt::format("screens[{}]", i);
    const bool open = ImGui::TreeNode(path.c_str(), "%s", screen.name.c_str());
    note_place(app, "screen " + screen.id);
    if (!open) return true;
    bool set = false;
    if (begin_rows("screen", row_names)) {
        const std::array<std::tuple<const char*, const char*, double, const char*>, 7> rows{
            {{"across", "across", screen.across.distance, "mm"},
             {"width", "width, out", screen.width, "mm"},
             {"thickness", "thickness", screen.thickness, "mm"},
             {"bottom", "lower edge", screen.bottom, "mm"},
             {"top", "upper edge", screen.top, "mm"},
             {"swing_left", "swings left", screen.swing_left, "\u00b0"},
             {"swing_right", "swings right", screen.swing_right, "\u00b0"}}};
        for (const auto& [key, name, now, unit] : rows) {
            if (set) break;
            row_name(name);
            set = number_field(app, path + "." + key, now, unit, fmt::format("screen {}", key));
        }
        if (!set) {
            row_name("holder's width");
            const auto& held = screen.profile;
            const auto wide = typed_field(app, path + ".profile", held.value_or(0), held ? "%.6g mm" : "not known",
                                          "screen profile", held.has_value());
            if (wide) outcome(app, set_number(*app.document, path + ".profile", *wide, true), "holder's width");
            set = wide.has_value();
        }
        ImGui::EndTable();
    }
    if (!set) {
        if (ImGui::Button("Take it out")) {
            const std::string id = screen.id;
            outcome(app, remove_entry(*app.document, "screens", i, "take out " + id), id + " taken out");
            set = true;
        }
        note_place(app, "take out screen " + std::to_string(i + 1));
    }
    ImGui::TreePop();
    return !set;
}

}  // namespace

Drawn draw_services(App& app, std::size_t w) {
    const Job& job = app.document->job->model.job;
    const std::string& wall = job.walls[w].id;
    const bool open = ImGui::CollapsingHeader("Pipes and screens");
    note_place(app, "services");
    if (!open) return true;
    bool any = false;
    for (std::size_t i = 0; i < job.pipes.size(); ++i) {
        if (job.pipes[i].wall != wall) continue;
        any = true;
        if (!draw_pipe(app, i, job.pipes[i])) return false;
    }
    for (std::size_t i = 0; i < job.screens.size(); ++i) {
        if (job.screens[i].wall != wall) continue;
        any = true;
        if (!draw_screen(app, i, job.screens[i])) return false;
    }
    if (!any) faint("None on this wall.");
    if (ImGui::Button("Add a pipe...")) ask_for_pipe(app, wall, job.pipes.size());
    note_place(app, "add pipe");
    ImGui::SameLine();
    if (ImGui::Button("Add a screen...")) ask_for_screen(app, wall, job.screens.size());
    note_place(app, "add screen");
    return true;
}

}  // namespace standproud::viewer
