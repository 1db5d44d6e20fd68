// Job files and catalogues: TOML, described for its writers in models/README.md.
#pragma once

#include <filesystem>

#include "modeler/job.hpp"

namespace standproud {

/// Reads a job and the catalogues it includes. Every fault found is added to `faults`; the job is good only
/// if none were.
Job read_job(const std::filesystem::path& path, Faults& faults);

}  // namespace standproud
