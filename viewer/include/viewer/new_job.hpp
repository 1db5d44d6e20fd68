// A job file to start from, made of a few answers.
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "viewer/report.hpp"

namespace standproud::viewer {

struct NewJobFitting {
    std::string kind = "tap";     ///< one of fitting_kinds(), or
    bool from_catalogue = false;  ///< the id of a type of NewJob::catalogues
    std::string wall = "back";
    double across = 0;  ///< mm from the left bare corner
    double height = 1050;
};

/// Lengths in mm. The walls are "left" (of three only), "back" and "right" (of two or three).
struct NewJob {
    std::string name = "New job";
    int walls = 3;  ///< 1 to 3
    double left = 900;
    double back = 1200;
    double right = 900;
    double height = 2400;
    double board = 9;
    double bed = 2;
    double panel = 6;
    std::vector<NewJobFitting> fittings;
    std::vector<std::filesystem::path> catalogues;  ///< files that types and stock come from; named in the new file
                                                    ///< when one of its fittings is from them
};

/// Kinds of fitting that a new job can begin with: the word, and what it is. Their figures are examples, and the file
/// says so.
const std::vector<std::pair<std::string, std::string>>& fitting_kinds();

/// The catalogues of an open job, and their types: id and what it is.
std::vector<std::filesystem::path> catalogues_of(const CheckedJob& job);
std::vector<std::pair<std::string, std::string>> catalogue_types(const CheckedJob& job);

/// What is wrong with the answers, with the range allowed; empty when the file can be written.
std::string refused_answers(const NewJob& job);

/// The file: valid and commented, every example marked. `folder` is where it will stand: catalogues are named from
/// there. Must hold: refused_answers(job) is empty.
std::string new_job_text(const NewJob& job, const std::filesystem::path& folder = {});

}  // namespace standproud::viewer
