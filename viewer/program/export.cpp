// `standproud export`: the recess as solids.
#include "viewer/export.hpp"

#include <fmt/format.h>

#include "modeler/exchange.hpp"
#include "program/commands.hpp"
#include "program/opened.hpp"
#include "program/output.hpp"
#include "rules/words.hpp"

namespace standproud::program {

int run_export(const ExportOptions& options) {
    const auto job = open_or_say(options.job, viewer::Advice::when_asked);
    if (!job) return bad_input;
    print_left_out(job->model);
    const auto contents = viewer::export_contents(*job, options.with_clashes);
    const std::size_t clashes = write_step(contents.parts, contents.pipes, contents.overlaps,
                                           {job->model.job.name, job->model.job.revision}, options.step);
    print("{}: {}{}\n", options.step, rules::counted(contents.parts.size() + contents.pipes.size(), "solid"),
          options.with_clashes ? fmt::format(", {} on the layer clash", rules::counted(clashes, "overlap")) : "");
    return all_well;
}

}  // namespace standproud::program
