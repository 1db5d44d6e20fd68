// Job files and catalogues: TOML, described for its writers in models/README.md.
#pragma once

#include <filesystem>
#include <map>
#include <mutex>
#include <string>
#include <vector>

#include "modeler/job.hpp"

namespace standproud {

/// What a catalogue holds, and its faults.
struct Goods {
    std::vector<FittingType> types;
    std::vector<StockItem> stock;
    Faults faults;
};

/// Catalogues that jobs of one run share: each is read and parsed once, by the path that jobs name it by. Threads may
/// use it together.
class Catalogues {
  public:
    /// A file that cannot be read is told as a fault at `asked_from`, and asked for again the next time.
    Goods read(const std::filesystem::path& path, const Source& asked_from);

  private:
    std::mutex mutex_;
    std::map<std::string, Goods> read_;
};

/// Reads a job and the catalogues it includes. Every fault found is added to `faults`; the job is good only
/// if none were.
Job read_job(const std::filesystem::path& path, Faults& faults);
Job read_job(const std::filesystem::path& path, Catalogues& shared, Faults& faults);

/// The same for a text that has not been saved yet: `path` names it in messages, and catalogues are looked for beside
/// it.
Job read_job_text(const std::string& text, const std::filesystem::path& path, Faults& faults);
Job read_job_text(const std::string& text, const std::filesystem::path& path, Catalogues& shared, Faults& faults);

}  // namespace standproud
