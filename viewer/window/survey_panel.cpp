// The survey of the bare walls: what is shown of it in 3D, the legend, the readings.
#include <fmt/format.h>
#include <imgui.h>

#include <cmath>

#include "rules/words.hpp"
#include "viewer/survey_view.hpp"
#include "window/app.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

ImU32 packed(Colour c) { return IM_COL32(c.red, c.green, c.blue, 255); }

/// The colours with figures under them, least and greatest of all walls at the ends.
void draw_legend(const App& app, const std::array<double, 2>& ends) {
    const float width = ImGui::GetContentRegionAvail().x;
    const float em = ImGui::GetFontSize();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* draw = ImGui::GetWindowDrawList();
    constexpr int pieces = 60;
    for (int i = 0; i < pieces; ++i) {
        const float left = at.x + width * static_cast<float>(i) / pieces;
        const float right = at.x + width * static_cast<float>(i + 1) / pieces;
        draw->AddRectFilled(ImVec2(left, at.y), ImVec2(right + 0.5F, at.y + em), packed(cividis((i + 0.5) / pieces)));
    }
    const ImU32 ink = ImGui::GetColorU32(ImGuiCol_Text);
    constexpr int ticks = 2;
    for (int i = 0; i <= ticks; ++i) {
        const float share = static_cast<float>(i) / ticks;
        const double figure = ends[0] + (ends[1] - ends[0]) * static_cast<double>(share);
        const std::string words = fmt::format("{}{}", mm(std::round(10 * figure) / 10 + 0.0), i == ticks ? " mm" : "");
        const float text = ImGui::CalcTextSize(words.c_str()).x;
        const float x = at.x + share * width;
        draw->AddLine(ImVec2(std::min(x, at.x + width - 1), at.y + em),
                      ImVec2(std::min(x, at.x + width - 1), at.y + 1.25F * em), ink);
        draw->AddText(ImVec2(std::clamp(x - text / 2, at.x, at.x + width - text), at.y + 1.3F * em), ink,
                      words.c_str());
    }
    ImGui::Dummy(ImVec2(width, 2.5F * em));
    faint(app.look.survey.packing ? "Packing behind the panels. Colours: cividis. Grey: no panel in a plane."
                                  : "The bare face from its upright plane, plus is into the room. Colours: cividis.");
}

void draw_shown(App& app) {
    SurveyLook& look = app.look.survey;
    ImGui::TextDisabled("Lean and hollows exaggerated");
    ImGui::SetNextItemWidth(-1);
    const double least = 1;
    const double most = 20;
    if (ImGui::SliderScalar("##times", ImGuiDataType_Double, &look.times, &least, &most, "x %.0f")) {
        look.times = std::round(look.times);
        app.scene_changed = true;
        say(app, fmt::format("Lean and hollows x {}", look.times));
    }
    note_place(app, "survey times");
    if (ImGui::RadioButton("packing", look.packing)) {
        look.packing = true;
        app.scene_changed = true;
    }
    note_place(app, "colour packing");
    ImGui::SameLine();
    if (ImGui::RadioButton("bare face", !look.packing)) {
        look.packing = false;
        app.scene_changed = true;
    }
    note_place(app, "colour face");
    if (ImGui::Checkbox("readings where they were taken", &look.values)) app.scene_changed = true;
    note_place(app, "reading values");
    ImGui::Spacing();
}

/// "width at 2100, back" for "the width at 2100 on wall back": the column is narrow.
std::string short_name(std::string name) {
    if (name.rfind("the ", 0) == 0) name.erase(0, 4);
    const std::string wall = " on wall ";
    const auto at = name.find(wall);
    return at == name.npos ? name : name.replace(at, wall.size(), ", ");
}

void fly_to_reading(App& app, const ReadingMark& mark) {
    const Model& model = app.document->job->model;
    Pose pose = facing_wall(model, mark.wall);
    const double n = app.look.survey.times * model.room.faces[mark.wall].bare.at(mark.u, mark.v).n;
    pose.at = model.room.walls[mark.wall].to_room(mark.u, mark.v, n);
    pose.fit_width = 900;
    pose.fit_height = 700;
    app.fly_to = pose;
}

void draw_readings(App& app) {
    const CheckedJob& job = *app.document->job;
    const Survey& survey = *job.model.survey;
    const auto marks = reading_marks(job);
    const float em = ImGui::GetFontSize();
    constexpr ImGuiTableFlags flags = ImGuiTableFlags_RowBg | ImGuiTableFlags_ScrollY | ImGuiTableFlags_BordersInnerH;
    if (!ImGui::BeginTable("readings", 3, flags, ImGui::GetContentRegionAvail())) return;
    ImGui::TableSetupScrollFreeze(0, 1);
    ImGui::TableSetupColumn("reading", ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableSetupColumn("read", ImGuiTableColumnFlags_WidthFixed, 3.4F * em);
    ImGui::TableSetupColumn("off by", ImGuiTableColumnFlags_WidthFixed, 3.2F * em);
    ImGui::TableHeadersRow();
    // Those to be taken again first.
    for (const bool suspect : {true, false}) {
        for (std::size_t i = 0; i < survey.readings.size(); ++i) {
            const std::string says = suspicion(survey, i);
            if (says.empty() == suspect) continue;
            const auto& reading = survey.readings[i];
            ImGui::TableNextRow();
            ImGui::TableNextColumn();
            ImGui::PushID(static_cast<int>(i));
            const std::string name = (suspect ? "X  " : "") + short_name(reading.name);
            const ImVec2 at = ImGui::GetCursorPos();
            const float width = ImGui::GetContentRegionAvail().x;
            const float height = ImGui::CalcTextSize(name.c_str(), nullptr, false, width).y;
            if (ImGui::Selectable("##row", suspect, ImGuiSelectableFlags_SpanAllColumns, ImVec2(0, height))) {
                for (const auto& mark : marks) {
                    if (mark.reading == i) fly_to_reading(app, mark);
                }
            }
            note_place(app, fmt::format("{} {}", suspect ? "suspect" : "reading", reading.name));
            if (ImGui::IsItemHovered()) {
                tooltip(suspect ? says
                                : fmt::format("{}: read {} {}, adjusted {}. {}:{}", reading.name, mm(reading.observed),
                                              reading.unit, mm(std::round(100 * reading.adjusted) / 100),
                                              std::filesystem::path(reading.source.file).filename().string(),
                                              reading.source.line));
            }
            ImGui::SetCursorPos(at);
            ImGui::TextWrapped("%s", name.c_str());
            ImGui::PopID();
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(mm(reading.observed).c_str());
            ImGui::TableNextColumn();
            const double off = std::round(10 * (reading.observed - reading.adjusted)) / 10 + 0.0;
            ImGui::TextUnformatted(reading.checked ? fmt::format("{:+.1f}", off).c_str() : "-");
        }
    }
    ImGui::EndTable();
}

/// Worked out once for each state of the job.
const std::array<double, 2>& legend_ends(const App& app) {
    static std::string of;
    static std::array<double, 2> ends;
    const std::string now =
        fmt::format("{} {} {}", app.document->file.string(), app.document->generation, app.look.survey.packing);
    if (of == now) return ends;
    std::vector<FaceGrid> grids;
    const auto& job = *app.document->job;
    for (std::size_t w = 0; w < job.model.room.walls.size(); ++w) grids.push_back(face_grid(job, w, 50));
    ends = figures_between(grids, app.look.survey.packing);
    of = now;
    return ends;
}

}  // namespace

void draw_survey(App& app) {
    const Survey& survey = *app.document->job->model.survey;
    draw_shown(app);
    draw_legend(app, legend_ends(app));
    ImGui::Spacing();
    const std::size_t suspects = survey.suspects.size();
    if (suspects > 0) {
        ImGui::TextWrapped("%s", survey.suspects.front().says.c_str());
        if (suspects > 1) faint(fmt::format("{} more to take again below.", suspects - 1));
    } else {
        faint("No reading disagrees with the others by more than chance.");
    }
    draw_readings(app);
}

}  // namespace standproud::viewer
