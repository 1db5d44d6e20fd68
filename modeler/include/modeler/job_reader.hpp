// Job files and catalogues: TOML, described for its writers in models/README.md.
#pragma once

#include <filesystem>
#include <string>

#include "modeler/job.hpp"

namespace standproud {

/// Reads a job and the catalogues it includes. Every fault found is added to `faults`; the job is good only
/// if none were.
Job read_job(const std::filesystem::path& path, Faults& faults);

/// The same for a text that has not been saved yet: `path` names it in messages, and catalogues are looked for beside
/// it.
Job read_job_text(const std::string& text, const std::filesystem::path& path, Faults& faults);

}  // namespace standproud
