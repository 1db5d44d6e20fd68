// One function a subcommand. Each returns the exit status.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace standproud::program {

/// Exit status: what every subcommand returns. 141 is what a shell says of a program that a broken pipe has ended.
enum Status { all_well = 0, something_fails = 1, bad_input = 2, internal_fault = 3, reader_gone = 141 };

/// The command line as `main` was given it.
extern char** arguments;

struct CheckOptions {
    std::vector<std::string> jobs;
    bool json = false;
    bool strict = false;
    bool arithmetic = false;
    bool advice = true;
};
int run_check(const CheckOptions& options);

struct CompareOptions {
    std::string old_job;
    std::string new_job;
    bool json = false;
};
int run_compare(const CompareOptions& options);

struct SetOutOptions {
    std::string job;
    std::string format = "text";
    std::string folder;  ///< for a sheet of each wall; empty for none
};
int run_setout(const SetOutOptions& options);

struct SurveyOptions {
    std::string job;
};
int run_survey(const SurveyOptions& options);

struct ExportOptions {
    std::string job;
    std::string step;
    bool with_clashes = false;
};
int run_export(const ExportOptions& options);

struct SectionOptions {
    std::string job;
    std::string folder;
};
int run_sections(const SectionOptions& options);

struct BenchOptions {
    std::vector<std::string> jobs;
    std::string format = "text";
    std::string folder;
};
int run_bench(const BenchOptions& options);

struct JoinsOptions {
    std::string job;
    std::string wall;
    std::vector<std::string> want;
    std::optional<double> align;
    double least_piece = 100;
    double least_height = 100;
    bool levels = false;
    int layouts = 3;
    std::string format = "text";
};
int run_joins(const JoinsOptions& options);

struct ViewOptions {
    std::string job;
    std::string snapshot;  ///< a picture instead of a window
    std::string wall;
    int finding = 0;   ///< from 1, the worst first
    std::string look;  ///< in words, of a picture
    std::string size;
    bool dark = false;
    double scale = 0;    ///< of lettering; 0: as the screen says
    std::string places;  ///< for tests: where things are on screen
};
int run_view(const ViewOptions& options);

struct StarterOptions {
    std::string file;
    std::string name;
    double width = 0;
    double depth = 0;
    double height = 0;
    int walls = 0;
    bool replace = false;
};
/// Asks on the terminal for what the options leave out.
int run_new(StarterOptions options);

/// The text of a starter file.
std::string starter_text(const StarterOptions& options);

}  // namespace standproud::program
