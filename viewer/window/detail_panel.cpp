// The chosen finding: what to do, and its arithmetic line by line.
#include <fmt/format.h>
#include <imgui.h>

#include "rules/words.hpp"
#include "viewer/units.hpp"
#include "window/app.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

std::string range_words(const std::optional<double>& low, const std::optional<double>& high, bool with_inches) {
    const auto said = [](const auto& number, const std::optional<double>& a, const std::optional<double>& b) {
        if (a && b) return fmt::format("{} to {}", number(*a), number(*b));
        return a ? fmt::format("{} or more", number(*a)) : fmt::format("{} or less", number(*b));
    };
    if (!low && !high) return "not known";
    const std::string words = said(mm, low, high);
    return with_inches ? fmt::format("{} ({})", words, said(inches, low, high)) : words;
}

void right_aligned(const std::string& words) {
    const float space = ImGui::GetContentRegionAvail().x - ImGui::CalcTextSize(words.c_str()).x;
    if (space > 0) ImGui::SetCursorPosX(ImGui::GetCursorPosX() + space);
    ImGui::TextUnformatted(words.c_str());
}

/// The place at a glance: the line in the job's own file, else the file's name with it. All of it when pointed at.
void place_of(const Source& source, const std::string& job_file) {
    if (source.line == 0) return;
    if (source.file == job_file) {
        ImGui::TextDisabled("line %d", source.line);
    } else {
        ImGui::TextDisabled("%s:%d", std::filesystem::path(source.file).filename().string().c_str(), source.line);
    }
    if (ImGui::IsItemHovered()) tooltip(to_string(source));
}

void draw_sum(const rules::Finding& finding, const std::string& job_file) {
    if (finding.terms.empty()) return;
    const float em = ImGui::GetFontSize();
    if (!ImGui::BeginTable("sum", 4, ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_SizingFixedFit)) return;
    ImGui::TableSetupColumn("term", ImGuiTableColumnFlags_WidthStretch, 1);
    ImGui::TableSetupColumn("mm", ImGuiTableColumnFlags_WidthFixed, 2.9F * em);
    ImGui::TableSetupColumn("+/-", ImGuiTableColumnFlags_WidthFixed, 2 * em);
    ImGui::TableSetupColumn("written", ImGuiTableColumnFlags_WidthStretch, 0.8F);
    ImGui::TableHeadersRow();
    for (const auto& term : finding.terms) {
        ImGui::TableNextColumn();
        ImGui::TextWrapped("%s", term.name.c_str());
        ImGui::TableNextColumn();
        right_aligned(fmt::format("{}{}", term.value < 0 ? "" : "+", mm(term.value)));
        ImGui::TableNextColumn();
        right_aligned(term.tolerance ? mm(*term.tolerance) : "?");
        ImGui::TableNextColumn();
        place_of(term.source, job_file);
    }
    ImGui::TableNextColumn();
    ImGui::TextWrapped("= %s", finding.quantity.c_str());
    ImGui::TableNextColumn();
    right_aligned(finding.nominal ? mm(*finding.nominal) : "?");
    ImGui::TableNextColumn();
    ImGui::TableNextColumn();
    ImGui::EndTable();
}

void row(const char* name, const std::string& words) {
    ImGui::TableNextColumn();
    ImGui::TextDisabled("%s", name);
    ImGui::TableNextColumn();
    ImGui::TextWrapped("%s", words.c_str());
}

void draw_bands(const rules::Finding& finding, bool inches_too) {
    const bool both = inches_too && finding.unit == "mm";
    if (!ImGui::BeginTable("bands", 2)) return;
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, 8.2F * ImGui::GetFontSize());
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch);
    if (both && finding.nominal) row("is", length_words(*finding.nominal, true));
    if (finding.worst_low || finding.worst_high)
        row("worst case", range_words(finding.worst_low, finding.worst_high, both));
    if (finding.statistical_low || finding.statistical_high) {
        row("root-sum-square", range_words(finding.statistical_low, finding.statistical_high, both));
    }
    if (finding.need_low || finding.need_high) row("needed", range_words(finding.need_low, finding.need_high, both));
    if (finding.seat_range) row("seats that would do", rules::depth_range(*finding.seat_range));
    row("source", finding.source);
    ImGui::EndTable();
}

void draw_offers(App& app, std::size_t index) {
    const auto offered = offers(*app.document, index);
    for (const auto& offer : offered) {
        if (ImGui::Button(offer.words.c_str())) {
            outcome(app, apply_cure(*app.document, index, offer.cure, offer.move), "Done: " + offer.words);
            return;  // the finding is another one now
        }
        static const std::map<Cure, const char*> names{{Cure::fit_item, "cure item"},
                                                       {Cure::set_seat, "cure seat"},
                                                       {Cure::move_seat, "cure body"},
                                                       {Cure::widen_gap, "cure gap"},
                                                       {Cure::move_along, "cure move"}};
        note_place(app, names.at(offer.cure));
    }
}

}  // namespace

void draw_detail(App& app) {
    const auto chosen = app.document->selection.finding;
    if (!chosen || *chosen >= app.document->job->findings.size()) {
        ImGui::TextDisabled("Choose a finding, or click a thing in the picture.");
        return;
    }
    const rules::Finding finding = advised(*app.document, *chosen);
    verdict_chip(finding.verdict, true);
    note_place(app, "detail");
    ImGui::SameLine();
    ImGui::AlignTextToFramePadding();
    ImGui::Text("%s, wall %s", finding.subject.c_str(), finding.wall.c_str());
    ImGui::SameLine();
    ImGui::TextDisabled("%s", to_string(finding.trade).c_str());
    ImGui::TextWrapped("%s", finding.says.c_str());
    if (!finding.action.empty()) {
        ImGui::Spacing();
        ImGui::TextDisabled("What to do");
        ImGui::TextWrapped("%s", finding.action.c_str());
        draw_offers(app, *chosen);
    }
    for (const auto& missing : finding.missing) ImGui::BulletText("missing: %s", missing.c_str());
    ImGui::Spacing();
    draw_sum(finding, app.document->file.string());
    draw_bands(finding, app.look.inches);
}

}  // namespace standproud::viewer
