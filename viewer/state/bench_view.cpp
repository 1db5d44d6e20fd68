// The bench of the present job: when it has to be worked out, and which result is of the present.
#include "viewer/bench_view.hpp"

#include <algorithm>

#include "viewer/bench_drawing.hpp"

namespace standproud::viewer {

namespace {

BenchStamp stamp_of(const BenchView& view, const Document& document) {
    return {document.generation, view.wishes.order, view.wishes.levels_freely};
}

}  // namespace

BenchLack bench_lack(const CheckedJob& job) {
    const Job& read = job.model.job;
    return {!read.bench, read.sheets.empty(), job.model.panels.empty()};
}

bool out_of_date(const BenchView& view, const Document& document) {
    return !view.shown || !(view.taken == stamp_of(view, document));
}

std::optional<BenchTask> begin_bench(BenchView& view, const Document& document) {
    if (!document.job || !out_of_date(view, document)) return std::nullopt;
    if (bench_lack(*document.job).any() || view.begun == stamp_of(view, document)) return std::nullopt;
    view.begun = stamp_of(view, document);
    return BenchTask{++view.serial, std::make_shared<const CheckedJob>(*document.job), view.wishes};
}

bool overtaken(const BenchView& view, const Document& document) { return !(view.begun == stamp_of(view, document)); }

BenchResult work_out(const BenchTask& task, std::stop_token stop) {
    BenchResult result;
    result.serial = task.serial;
    try {
        result.bench = work_out_bench({*task.job}, stop);
        if (stop.stop_requested()) {
            result.stopped = true;
            return result;
        }
        result.joins = plan_job_joins(*task.job, "", task.wishes);
        result.pages = page_titles(result.bench);
    } catch (const std::exception& fault) {
        result.refused = fault.what();
    }
    return result;
}

bool take_result(BenchView& view, const Document& document, BenchResult result) {
    if (result.serial != view.serial || !document.job) return false;
    if (result.stopped) view.begun = {};  // should it be wanted after all, it begins anew
    if (!(view.begun == stamp_of(view, document))) return false;
    view.taken = view.begun;
    view.shown = std::make_shared<const BenchResult>(std::move(result));
    return true;
}

void forget_bench(BenchView& view) {
    view.shown.reset();
    ++view.serial;  // what is under way belongs to the old job
    view.begun = {};
    view.taken = {};
    view.scored = 0;
    view.scores.clear();
}

const std::vector<DrawnJoins>& live_scores(BenchView& view, const Document& document) {
    if (view.scored == document.generation) return view.scores;
    view.scored = document.generation;
    view.scores.clear();
    if (document.job && !bench_lack(*document.job).any()) view.scores = score_job_joins(*document.job, "", view.wishes);
    return view.scores;
}

const DrawnJoins* score_of(const std::vector<DrawnJoins>& scores, const std::string& wall) {
    const auto found = std::find_if(scores.begin(), scores.end(), [&](const auto& one) { return one.wall == wall; });
    return found == scores.end() ? nullptr : &*found;
}

}  // namespace standproud::viewer
