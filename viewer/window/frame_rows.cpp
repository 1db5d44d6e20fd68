// What stands behind the lining of a wall: studs and noggins, or masonry.
#include <fmt/format.h>
#include <imgui.h>

#include <cmath>

#include "rules/words.hpp"
#include "window/entry_form.hpp"
#include "window/value_rows.hpp"
#include "window/wall_rows.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

double number_at(const Entry& entry, const char* key) { return std::stod(value_of(entry, key)); }

/// Studs at both ends, and between them at equal steps from the left bare corner.
std::string centres(double wall, double stud, double apart) {
    std::string list = number_text(stud / 2);
    for (double u = apart; u < wall - 1.5 * stud && apart > stud; u += apart) list += ", " + number_text(u);
    return "[" + list + ", " + number_text(wall - stud / 2) + "]";
}

void ask_for_studs(App& app, std::size_t w, const std::string& path) {
    EntryForm form;
    form.title = "Add studs";
    form.words =
        "One at each end, and between them at equal steps from the left bare corner. Each can be moved afterwards.";
    form.fields = {asked_number("width", "width, along the wall"), asked_number("depth", "depth, into the wall"),
                   asked_number("apart", "from centre to centre"), asked_number("set_back", "set back", false)};
    form.done = "Studs added";
    const double width = app.document->job->model.job.walls[w].width;
    form.take = [&app, path, width](const Entry& answers) -> Refusal {
        if (number_at(answers, "apart") <= number_at(answers, "width"))
            return "from centre to centre is no more than a stud's width";
        Entry entry{{"width", value_of(answers, "width")},
                    {"depth", value_of(answers, "depth")},
                    {"centres", centres(width, number_at(answers, "width"), number_at(answers, "apart"))}};
        const std::string back = value_of(answers, "set_back");
        if (!back.empty()) entry.emplace_back("set_back", back);
        return add_table(*app.document, path, entry, "add studs");
    };
    ask(app, std::move(form));
}

void ask_for_noggin(App& app, const std::string& list, std::size_t count) {
    EntryForm form;
    form.title = "Add a noggin";
    form.words = "Its ends from the left bare corner, its centre line above the datum.";
    form.fields = {asked_number("left", "left end"),
                   asked_number("right", "right end"),
                   asked_number("height", "height"),
                   asked_number("size", "size, upright"),
                   asked_number("depth", "depth, into the wall"),
                   asked_number("set_back", "set back", false)};
    form.done = "Noggin added";
    form.take = [&app, list, count](const Entry& entry) {
        return add_entry(*app.document, list, count, entry, "add a noggin");
    };
    ask(app, std::move(form));
}

void ask_for_stud(App& app, const std::string& list, const std::vector<double>& present) {
    EntryForm form;
    form.title = "Add a stud";
    form.words = "Its centre line, from the left bare corner.";
    form.fields = {asked_number("centre", "centre")};
    form.done = "Stud added";
    form.take = [&app, list, present](const Entry& answers) {
        std::size_t at = 0;
        while (at < present.size() && present[at] < number_at(answers, "centre")) ++at;
        return add_item(*app.document, list, at, value_of(answers, "centre"), "add a stud");
    };
    ask(app, std::move(form));
}

struct Row {
    const char* key;
    const char* name;
    double now;
};

/// Numbers of one table. False when one was set.
bool draw_numbers(App& app, const std::string& base, const std::string& place, const std::vector<Row>& rows) {
    bool set = false;
    if (!begin_rows(base.c_str(), row_names)) return true;
    for (const Row& row : rows) {
        if (set) break;
        row_name(row.name);
        set = number_field(app, base + "." + row.key, row.now, "mm", fmt::format("{} {}", place, row.key));
    }
    ImGui::EndTable();
    return !set;
}

Drawn draw_studs(App& app, std::size_t w, const Studs& studs) {
    const std::string path = fmt::format("walls[{}].studs", w);
    if (!ImGui::TreeNode("studs", "%s, %s x %s", rules::counted(studs.centres.size(), "stud").c_str(),
                         mm(studs.width).c_str(), mm(studs.depth).c_str())) {
        note_place(app, "studs");
        return true;
    }
    note_place(app, "studs");
    bool drawn = draw_numbers(
        app, path, "stud",
        {{"width", "width", studs.width}, {"depth", "depth", studs.depth}, {"set_back", "set back", studs.set_back}});
    const std::string list = path + ".centres";
    if (drawn && begin_rows("centres", row_names)) {
        for (std::size_t k = 0; drawn && k < studs.centres.size(); ++k) {
            const std::string one = fmt::format("{}[{}]", list, k);
            row_name(fmt::format("stud {}", k + 1));
            ImGui::SetNextItemWidth(-2.2F * ImGui::GetFontSize());
            drawn = !number_field(app, one, studs.centres[k], "mm", fmt::format("stud {}", k + 1));
            if (!drawn) break;
            ImGui::SameLine(0, 0.3F * ImGui::GetFontSize());
            if (take_out_button(app, one, fmt::format("take out stud {}", k + 1))) {
                outcome(app, remove_entry(*app.document, list, k, fmt::format("take out stud {}", k + 1)),
                        fmt::format("Stud {} taken out", k + 1));
                drawn = false;
            }
        }
        ImGui::EndTable();
    }
    if (drawn) {
        if (ImGui::Button("Add a stud...")) ask_for_stud(app, list, studs.centres);
        note_place(app, "add stud");
        ImGui::SameLine();
        const bool out = ImGui::Button("Take all out");
        note_place(app, "take out studs");
        if (out) outcome(app, remove_table(*app.document, path, "take out the studs"), "Studs taken out");
        drawn = !out;
    }
    ImGui::TreePop();
    return drawn;
}

Drawn draw_noggin(App& app, std::size_t w, std::size_t k, const Noggin& noggin) {
    const std::string list = fmt::format("walls[{}].noggins", w);
    const std::string path = fmt::format("{}[{}]", list, k);
    const std::string title =
        fmt::format("noggin at {}, from {} to {}###{}", mm(noggin.height), mm(noggin.left), mm(noggin.right), path);
    const bool open = ImGui::TreeNode(title.c_str());
    note_place(app, fmt::format("noggin {}", k + 1));
    if (!open) return true;
    bool drawn = draw_numbers(app, path, fmt::format("noggin {}", k + 1),
                              {{"left", "left end", noggin.left},
                               {"right", "right end", noggin.right},
                               {"height", "height", noggin.height},
                               {"size", "upright", noggin.size},
                               {"depth", "depth", noggin.depth},
                               {"set_back", "set back", noggin.set_back}});
    if (drawn) {
        const bool out = ImGui::Button("Take it out");
        note_place(app, fmt::format("take out noggin {}", k + 1));
        if (out)
            outcome(app, remove_entry(*app.document, list, k, fmt::format("take out noggin {}", k + 1)),
                    fmt::format("Noggin {} taken out", k + 1));
        drawn = !out;
    }
    ImGui::TreePop();
    return drawn;
}

Drawn draw_masonry(App& app, std::size_t w, const Masonry& masonry) {
    const std::string path = fmt::format("walls[{}].masonry", w);
    if (!draw_numbers(app, path, "masonry", {{"thickness", "masonry", masonry.thickness}})) return false;
    const bool out = ImGui::Button("Take the masonry out");
    note_place(app, "take out masonry");
    if (out) outcome(app, remove_table(*app.document, path, "take out the masonry"), "Masonry taken out");
    return !out;
}

void ask_for_masonry(App& app, const std::string& path) {
    EntryForm form;
    form.title = "Add masonry";
    form.words = "Brick, block or an old wall behind the bare face.";
    form.fields = {asked_number("thickness", "thickness")};
    form.done = "Masonry added";
    form.take = [&app, path](const Entry& entry) { return add_table(*app.document, path, entry, "add masonry"); };
    ask(app, std::move(form));
}

}  // namespace

Drawn draw_frame(App& app, std::size_t w) {
    const Wall& wall = app.document->job->model.job.walls[w];
    const std::string path = fmt::format("walls[{}]", w);
    const bool open = ImGui::CollapsingHeader("Frame");
    note_place(app, "frame");
    if (!open) return true;
    if (wall.masonry) return draw_masonry(app, w, *wall.masonry);
    if (wall.studs && !draw_studs(app, w, *wall.studs)) return false;
    for (std::size_t k = 0; k < wall.noggins.size(); ++k) {
        if (!draw_noggin(app, w, k, wall.noggins[k])) return false;
    }
    if (!wall.studs) {
        faint("No studs.");
        if (ImGui::Button("Add studs...")) ask_for_studs(app, w, path + ".studs");
        note_place(app, "add studs");
        ImGui::SameLine();
    }
    if (ImGui::Button("Add a noggin...")) ask_for_noggin(app, path + ".noggins", wall.noggins.size());
    note_place(app, "add noggin");
    if (!wall.studs && wall.noggins.empty()) {
        if (ImGui::Button("Masonry instead...")) ask_for_masonry(app, path + ".masonry");
        note_place(app, "add masonry");
    }
    return true;
}

}  // namespace standproud::viewer
