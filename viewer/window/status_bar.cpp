// The line at the bottom, questions in the way of everything, and the window without a job.
#include <fmt/format.h>
#include <imgui.h>

#include "window/app.hpp"
#include "window/dialog.hpp"

namespace standproud::viewer {

namespace {

void draw_tally(const CheckedJob& job) {
    const Tally count = tally(job.findings);
    const auto one = [](rules::Verdict verdict, int number) {
        verdict_chip(verdict, false);
        ImGui::SameLine();
        ImGui::AlignTextToFramePadding();
        const bool fail = verdict == rules::Verdict::fails && number != 1;
        ImGui::Text("%d %s", number, fail ? "fail" : to_string(verdict).c_str());
        ImGui::SameLine(0, 1.2F * ImGui::GetFontSize());
    };
    one(rules::Verdict::fails, count.fails);
    one(rules::Verdict::unknown, count.unknown);
    one(rules::Verdict::tight, count.tight);
    one(rules::Verdict::clear, count.clear);
}

}  // namespace

void draw_status(App& app) {
    if (app.document && app.document->job) draw_tally(*app.document->job);
    ImGui::AlignTextToFramePadding();
    if (app.work.busy()) {
        const double done = app.work.done();
        ImGui::TextUnformatted(app.work.name().c_str());
        ImGui::SameLine();
        const float bar = 10 * ImGui::GetFontSize();
        ImGui::ProgressBar(done < 0 ? 0.5F : static_cast<float>(done), ImVec2(bar, 0), done < 0 ? "at work" : nullptr);
        ImGui::SameLine();
        if (ImGui::SmallButton("Stop")) app.work.stop();
        return;
    }
    if (app.refused) {
        ImGui::TextColored(app.look.dark ? ImVec4(1, 0.62F, 0.38F, 1) : ImVec4(0.66F, 0.27F, 0, 1), "%s",
                           app.message.c_str());
    } else {
        ImGui::TextUnformatted(app.message.c_str());
    }
}

void draw_questions(App& app) {
    if (!app.question) return;
    if (!begin_dialog(app, app.question->title + "###question", 28)) return;
    ImGui::TextWrapped("%s", app.question->words.c_str());
    ImGui::Spacing();
    std::function<void()> answer;
    bool first = true;
    for (const auto& [words, run] : app.question->answers) {
        if (!first) ImGui::SameLine();
        first = false;
        if (ImGui::Button(words.c_str())) answer = run;
        note_place(app, "answer " + words);
    }
    // The last answer is the one that changes nothing.
    if (escaped(app) && app.question->answers.back().first == "Cancel") answer = app.question->answers.back().second;
    if (answer) {
        app.question.reset();  // the answer may ask another one
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
    if (answer) answer();
}

void draw_welcome(App& app) {
    ImGui::Dummy(ImVec2(0, 2 * ImGui::GetFontSize()));
    ImGui::TextWrapped("No job is open. Drop a job file on this window, or open one with Ctrl+O.");
    ImGui::Spacing();
    for (const auto& file : std::vector<std::string>(app.settings.recent)) {
        const bool taken = ImGui::Selectable(file.c_str());
        note_place(app, "recent " + std::filesystem::path(file).filename().string());
        if (taken) open_job_file(app, file);
    }
    ImGui::Spacing();
    if (ImGui::Button("New from a few answers...")) begin_new(app);
    note_place(app, "welcome new");
}

}  // namespace standproud::viewer
