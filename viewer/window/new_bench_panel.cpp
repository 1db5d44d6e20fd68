// What a job without a bench is asked: a stock sheet, and every figure that nobody else can know.
#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "window/app.hpp"
#include "window/dialog.hpp"
#include "window/value_rows.hpp"

namespace standproud::viewer {

namespace {

void ask(App& app, const BenchQuestion& question, std::string& answer) {
    row_name(question.says + (question.optional ? " (optional)" : ""));
    ImGui::PushID(question.key.c_str());
    if (question.choices.empty()) {
        const float unit = question.unit.empty() ? 0 : 4 * ImGui::GetFontSize();
        ImGui::SetNextItemWidth(unit > 0 ? -unit : -1);
        ImGui::InputText("##answer", &answer);
        note_place(app, "answer " + question.key);
        if (unit > 0) {
            ImGui::SameLine();
            ImGui::TextUnformatted(question.unit.c_str());
        }
    } else {
        for (std::size_t i = 0; i < question.choices.size(); ++i) {
            if (i > 0) ImGui::SameLine();
            if (ImGui::RadioButton(question.choices[i].c_str(), answer == question.choices[i]))
                answer = question.choices[i];
            note_place(app, fmt::format("answer {} {}", question.key, question.choices[i]));
        }
    }
    ImGui::PopID();
}

}  // namespace

void draw_new_bench(App& app) {
    if (!app.bench.answers) return;
    if (!begin_dialog(app, "A bench for this job", 46, 50)) return;
    const float em = ImGui::GetFontSize();
    faint("Written at the end of the file. None of these has a standard value.");
    ImGui::BeginChild("questions", ImVec2(0, -3.9F * em));
    if (begin_rows("answers", 25)) {
        for (const auto& question : bench_questions(bench_lack(*app.document->job)))
            ask(app, question, (*app.bench.answers)[question.key]);
        ImGui::EndTable();
    }
    ImGui::EndChild();
    if (app.refused) {
        ImGui::PushStyleColor(ImGuiCol_Text, app.look.dark ? ImVec4(1, 0.62F, 0.38F, 1) : ImVec4(0.66F, 0.27F, 0, 1));
        ImGui::TextWrapped("%s", app.message.c_str());
        ImGui::PopStyleColor();
    }
    const bool write = ImGui::Button("Add them", ImVec2(7 * em, 0));
    note_place(app, "answers taken");
    ImGui::SameLine();
    const bool stop = ImGui::Button("Cancel", ImVec2(6 * em, 0)) || escaped(app);
    bool done = stop;
    if (write) {
        const Refusal refusal = add_bench(*app.document, *app.bench.answers);
        outcome(app, refusal, "Added at the end of the file. Undo takes it out again.");
        done = refusal.empty();
    }
    if (stop) say(app, "Nothing was added.");
    if (done) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
    if (done) app.bench.answers.reset();
}

}  // namespace standproud::viewer
