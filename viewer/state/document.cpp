// Opening, and steps with undo and redo.
#include <fmt/format.h>

#include <algorithm>

#include "modeler/files.hpp"
#include "modeler/scene.hpp"
#include "state/steps.hpp"

namespace standproud::viewer {

namespace {

/// Keeps the choice through a new judging: the same rule and quantity of the same fitting, if it is still there.
void carry_selection(Document& document, const CheckedJob& before) {
    Selection& chosen = document.selection;
    const auto& now = document.job->findings;
    if (chosen.finding && *chosen.finding < before.findings.size()) {
        const auto& old = before.findings[*chosen.finding];
        const auto same = [&](const rules::Finding& f) {
            return f.subject == old.subject && f.rule == old.rule && f.quantity == old.quantity;
        };
        // Several findings may judge the same quantity (each screw of a rail): the nth stays the nth.
        auto nth = std::count_if(before.findings.begin(),
                                 before.findings.begin() + static_cast<std::ptrdiff_t>(*chosen.finding), same);
        chosen.finding.reset();
        for (std::size_t i = 0; i < now.size(); ++i) {
            if (same(now[i]) && nth-- == 0) chosen.finding = i;
        }
    }
    const auto& fittings = document.job->model.job.fittings;
    const bool there =
        std::any_of(fittings.begin(), fittings.end(), [&](const auto& f) { return f.id == chosen.fitting; });
    if (!there) chosen.fitting.clear();
    const bool part_there =
        std::any_of(document.parts.begin(), document.parts.end(), [&](const Part& p) { return p.id == chosen.part; });
    if (!part_there) chosen.part.clear();
}

std::string spliced(std::string text, const std::vector<Splice>& splices) {
    for (const auto& splice : splices) text.replace(splice.at, splice.removed.size(), splice.inserted);
    return text;
}

std::string unspliced(std::string text, const std::vector<Splice>& splices) {
    for (auto splice = splices.rbegin(); splice != splices.rend(); ++splice) {
        text.replace(splice->at, splice->inserted.size(), splice->removed);
    }
    return text;
}

void keep_step(Document& document, Step step) {
    document.undone.clear();
    if (!step.joins.empty() && !document.done.empty() && document.done.back().joins == step.joins) {
        // One step for a run of the same setting: from the text before the run to the text now.
        Step& run = document.done.back();
        const std::string before = unspliced(unspliced(document.text, step.splices), run.splices);
        run.name = step.name;
        run.splices = {difference(before, document.text)};
        if (before == document.text) document.done.pop_back();
        return;
    }
    document.done.push_back(std::move(step));
}

}  // namespace

Splice difference(const std::string& from, const std::string& to) {
    std::size_t head = 0;
    const std::size_t least = std::min(from.size(), to.size());
    while (head < least && from[head] == to[head]) ++head;
    std::size_t tail = 0;
    while (tail < least - head && from[from.size() - 1 - tail] == to[to.size() - 1 - tail]) ++tail;
    return {head, from.substr(head, from.size() - head - tail), to.substr(head, to.size() - head - tail)};
}

void judge_again(Document& document) {
    document.faults.clear();
    auto job =
        open_job_text(document.text, document.file.string(), document.faults, document.job ? &*document.job : nullptr);
    sort_faults(document.faults);
    if (!job) return;
    const std::optional<CheckedJob> before = std::move(document.job);
    document.job = std::move(job);
    document.parts = build_parts(document.job->model);
    for (auto& leg : pipe_legs(document.job->model)) document.parts.push_back(std::move(leg));
    for (auto& seal : build_sealant(document.job->model)) document.parts.push_back(std::move(seal));
    ++document.generation;
    if (before) carry_selection(document, *before);
}

Refusal take_step(Document& document, Step step) {
    const std::string text = spliced(document.text, step.splices);
    if (text == document.text) return "";
    if (!Places::of(text))
        return fmt::format("{}: the file would no longer be readable; nothing was changed", step.name);
    document.text = text;
    keep_step(document, std::move(step));
    judge_again(document);
    return "";
}

void take_text(Document& document, const std::string& name, const std::string& text) {
    if (text == document.text) return;
    Step step{name, "", {difference(document.text, text)}};
    document.text = text;
    keep_step(document, std::move(step));
    judge_again(document);
}

Document open_document(const std::filesystem::path& file) {
    Document document;
    document.file = file;
    document.text = read_whole(file);
    document.saved = document.text;
    judge_again(document);
    return document;
}

bool undo(Document& document) {
    if (document.done.empty()) return false;
    document.text = unspliced(document.text, document.done.back().splices);
    document.undone.push_back(std::move(document.done.back()));
    document.undone.back().joins.clear();
    document.done.pop_back();
    if (!document.done.empty()) document.done.back().joins.clear();
    judge_again(document);
    return true;
}

bool redo(Document& document) {
    if (document.undone.empty()) return false;
    document.text = spliced(document.text, document.undone.back().splices);
    document.done.push_back(std::move(document.undone.back()));
    document.undone.pop_back();
    judge_again(document);
    return true;
}

std::string undo_name(const Document& document) { return document.done.empty() ? "" : document.done.back().name; }
std::string redo_name(const Document& document) { return document.undone.empty() ? "" : document.undone.back().name; }

}  // namespace standproud::viewer
