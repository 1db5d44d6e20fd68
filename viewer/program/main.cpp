// The program: reads the command line and calls the library.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <sstream>

#include "modeler/clean_text.hpp"
#include "modeler/files.hpp"
#include "modeler/source.hpp"
#include "program/commands.hpp"
#include "program/output.hpp"

char** standproud::program::arguments = nullptr;

namespace {

using namespace standproud::program;

struct Options {
    CheckOptions check;
    CompareOptions compared;
    SetOutOptions set_out;
    SurveyOptions survey;
    ExportOptions exported;
    SectionOptions sections;
    BenchOptions bench;
    JoinsOptions joins;
    ViewOptions view;
    StarterOptions starter;
};

void add_check(CLI::App& app, CheckOptions& options) {
    CLI::App* command = app.add_subcommand("check", "Judge every fitting of one or more jobs");
    command->add_option("JOB", options.jobs, "Job files")->required();
    command
        ->add_option_function<std::string>(
            "--format", [&options](const std::string& format) { options.json = format == "json"; }, "text or json")
        ->check(CLI::IsMember({"text", "json"}));
    command->add_flag("--strict", options.strict, "Exit with 1 for tight as well");
    command->add_flag("!--no-advice", options.advice, "Judge only: do not look for what to buy, set or move");
    command->add_flag("--arithmetic", options.arithmetic, "Show every term of every sum, and where it was written");
    command->footer(
        "Exit status: 0 nothing fails or is unknown, 1 something is, 2 bad input, 3 internal fault.\n"
        "Example: standproud check models/twin-taps.toml --arithmetic");
}

void add_compare(CLI::App& app, CompareOptions& options) {
    CLI::App* command = app.add_subcommand("compare", "Say what changed between two files or revisions of a job");
    command->add_option("OLD", options.old_job, "Job file as it was")->required();
    command->add_option("NEW", options.new_job, "Job file as it is")->required();
    command
        ->add_option_function<std::string>(
            "--format", [&options](const std::string& format) { options.json = format == "json"; }, "text or json")
        ->check(CLI::IsMember({"text", "json"}));
    command->footer(
        "Exit status: 0 nothing got worse, 1 something did, 2 bad input, 3 internal fault.\n"
        "Example: standproud compare shower-rev-a.toml shower-rev-b.toml");
}

void add_setout(CLI::App& app, SetOutOptions& options) {
    CLI::App* command = app.add_subcommand("setout", "Say where to mark every fitting on the bare walls, and how deep");
    command->add_option("JOB", options.job, "Job file")->required();
    command->add_option("--format", options.format, "text, json or csv")->check(CLI::IsMember({"text", "json", "csv"}));
    command->add_option("-o,--output", options.folder, "Folder for a sheet of each wall as PDF, SVG and PNG");
    command->footer("Example: standproud setout models/twin-taps.toml");
}

void add_survey(CLI::App& app, SurveyOptions& options) {
    CLI::App* command =
        app.add_subcommand("survey", "Adjust the readings of the bare recess; name those to take again");
    command->add_option("JOB", options.job, "Job file with a [survey]")->required();
    command->footer(
        "Exit status: 0 the readings agree, 1 some are to be taken again, 2 bad input, 3 internal fault.\n"
        "Example: standproud survey my-job.toml");
}

void add_export(CLI::App& app, ExportOptions& options) {
    CLI::App* command = app.add_subcommand("export", "Write the recess as solids for other programs");
    command->add_option("JOB", options.job, "Job file")->required();
    command->add_option("--step", options.step, "STEP AP242 file to write")->required();
    command->add_flag("--with-clashes", options.with_clashes,
                      "What two things both fill, as solids on a layer of their own");
    command->footer("Example: standproud export models/twin-taps.toml --step twin-taps.step");
}

void add_sections(CLI::App& app, SectionOptions& options) {
    CLI::App* command = app.add_subcommand("sections", "Draw a level section through every fitting, true to scale");
    command->add_option("JOB", options.job, "Job file")->required();
    command->add_option("-o,--output", options.folder, "Folder for the PDF, SVG and PNG files")->required();
    command->footer("Example: standproud sections models/twin-taps.toml -o sections");
}

void add_bench(CLI::App& app, BenchOptions& options) {
    CLI::App* command =
        app.add_subcommand("bench", "Cut lists and drawings, sheets, movement, what to buy, and the order of the work");
    command->add_option("JOB", options.jobs, "Job files; their panels are nested together")->required();
    command
        ->add_option("-o,--output", options.folder,
                     "Folder for bench.txt, .json, .csv and .ics, drawings.pdf, drawings/, templates/ and router/")
        ->required();
    command->add_option("--format", options.format, "What is printed besides: text, json or csv")
        ->check(CLI::IsMember({"text", "json", "csv"}));
    command->footer(
        "Writes all files or none, and names them on standard error.\n"
        "Needs [bench] in every job and [[sheets]] in the first; see models/README.md.\n"
        "Exit status: 0 worked out, 1 something is to be settled before the first cut, 2 bad input, 3 internal fault.\n"
        "Example: standproud bench models/old-stable.toml -o bench");
}

void add_joins(CLI::App& app, JoinsOptions& options) {
    CLI::App* command =
        app.add_subcommand("joins", "Propose where the joins of a wall fall, from the sheets there are");
    command->add_option("JOB", options.job, "Job file with [[sheets]] and [bench]")->required();
    CLI::Option* wall = command->add_option("--wall", options.wall, "This wall only");
    CLI::Option* want =
        command->add_option("--want", options.want, "What counts, the first most: fewest, cost, waste, symmetry, align")
            ->delimiter(',')
            ->check(CLI::IsMember({"fewest", "cost", "waste", "symmetry", "align"}));
    command
        ->add_option("--align", options.align, "A join is wanted here, mm from the left bare corner; with --want align")
        ->needs(wall)
        ->needs(want)
        ->check(CLI::Range(0.0, 20000.0));
    command->add_option("--least-piece", options.least_piece, "No piece narrower than this, mm")
        ->check(CLI::Range(10.0, 2000.0));
    command->add_option("--least-height", options.least_height, "No piece between level joins lower than this, mm")
        ->check(CLI::Range(10.0, 2000.0));
    command->add_flag("--levels", options.levels,
                      "Level joins wherever they score better, not only where there is no layout without");
    command->add_option("--layouts", options.layouts, "How many layouts to give")->check(CLI::Range(1, 10));
    command->add_option("--format", options.format, "text or json")->check(CLI::IsMember({"text", "json"}));
    command->footer(
        "Exit status: 0 every wall has a layout, 1 some has none, 2 bad input, 3 internal fault.\n"
        "Example: standproud joins models/old-stable.toml --wall back --want symmetry,fewest");
}

void add_view(CLI::App& app, ViewOptions& options) {
    CLI::App* command = app.add_subcommand("view", "Open a window with the recess in 3D, or write a picture of it");
    command->add_option("JOB", options.job, "Job file");
    CLI::Option* snapshot = command->add_option("--snapshot", options.snapshot, "PNG to write instead of a window");
    CLI::Option* wall = command->add_option("--wall", options.wall, "Straight on to this wall")->needs(snapshot);
    command->add_option("--finding", options.finding, "Near this finding: 1 is the worst")
        ->needs(snapshot)
        ->excludes(wall)
        ->check(CLI::PositiveNumber);
    command
        ->add_option("--look", options.look,
                     "apart=MM, hide=LAYER, ghost=LAYER, cut=level:MM, cut=WALL:MM, survey, layer-colours, no-flags, "
                     "no-edges; several with commas between")
        ->needs(snapshot);
    command->add_option("--size", options.size, "Picture or window in pixels, as 1600x1000");
    command->add_flag("--dark", options.dark, "On a dark ground");
    command->add_option("--scale", options.scale, "Size of lettering, 1 for a plain screen")
        ->check(CLI::Range(0.5, 4.0));
    command->add_option("--places", options.places, "For tests: a file that says where things are on screen");
    command->footer(
        "Without a screen: xvfb-run -a standproud view JOB --snapshot OUT.png\n"
        "Example: standproud view models/twin-taps.toml");
}

void add_new(CLI::App& app, StarterOptions& options) {
    CLI::App* command = app.add_subcommand("new", "Write a job file to start from; asks for what is not given");
    command->add_option("FILE", options.file, "File to write, or - for standard output")->required();
    command->add_option("--name", options.name, "Name of the job");
    command->add_option("--walls", options.walls, "Walls to line: 1, 2 or 3")->check(CLI::Range(1, 3));
    command->add_option("--width", options.width, "Width of the back wall on the bare face, mm")
        ->check(CLI::Range(100.0, 20000.0));
    command->add_option("--depth", options.depth, "Depth of the recess, mm")->check(CLI::Range(100.0, 20000.0));
    command->add_option("--height", options.height, "Height of the walls, mm")->check(CLI::Range(100.0, 6000.0));
    command->add_flag("--replace", options.replace, "Replace a file that is there already");
    command->footer(
        "Example: standproud new shower.toml --name \"Hall shower\" --walls 3 --width 1200 --depth 900 --height 2400");
}

/// A word in the place of a command that is not one; empty when all is well.
std::string unknown_command(const CLI::App& app, int argc, char** argv) {
    if (argc < 2 || argv[1][0] == '-') return "";
    std::vector<std::string> known;
    for (const auto* command : app.get_subcommands({})) known.push_back(command->get_name());
    if (std::find(known.begin(), known.end(), argv[1]) != known.end()) return "";
    const std::string near = standproud::nearest_word(argv[1], known);
    return fmt::format("unknown command {}{}", argv[1], near.empty() ? "" : fmt::format("; did you mean {}?", near));
}

int run(const CLI::App& app, const Options& options) {
    if (app.got_subcommand("check")) return run_check(options.check);
    if (app.got_subcommand("compare")) return run_compare(options.compared);
    if (app.got_subcommand("setout")) return run_setout(options.set_out);
    if (app.got_subcommand("survey")) return run_survey(options.survey);
    if (app.got_subcommand("export")) return run_export(options.exported);
    if (app.got_subcommand("sections")) return run_sections(options.sections);
    if (app.got_subcommand("bench")) return run_bench(options.bench);
    if (app.got_subcommand("joins")) return run_joins(options.joins);
    if (app.got_subcommand("view")) return run_view(options.view);
    return run_new(options.starter);
}

}  // namespace

int main(int argc, char** argv) {
    set_up_output();
    arguments = argv;
    try {
        CLI::App app{
            "standproud: how far each fitting stands proud of the finished wall, and what to buy or move if "
            "it does not"};
        app.set_version_flag("--version", "standproud " STANDPROUD_VERSION);
        app.require_subcommand(1);
        app.footer("Example: standproud check models/twin-taps.toml\nHelp for one command: standproud check --help");
        Options options;
        add_check(app, options.check);
        add_compare(app, options.compared);
        add_setout(app, options.set_out);
        add_survey(app, options.survey);
        add_export(app, options.exported);
        add_sections(app, options.sections);
        add_bench(app, options.bench);
        add_joins(app, options.joins);
        add_view(app, options.view);
        add_new(app, options.starter);
        if (const std::string fault = unknown_command(app, argc, argv); !fault.empty()) {
            remark("standproud: {}\nRun with --help for what there is.\n", fault);
            return bad_input;
        }
        try {
            app.parse(argc, argv);
        } catch (const CLI::ParseError& error) {
            std::ostringstream said;
            std::ostringstream refused;
            const int status = app.exit(error, said, refused);
            put(said.str());
            tell(refused.str());
            return status == 0 ? all_well : bad_input;
        }
        return run(app, options);
    } catch (const ReaderGone&) {
        return reader_gone;
    } catch (const standproud::FileError& error) {
        remark("standproud: {}\n", standproud::clean_text(error.what()));
        return bad_input;
    } catch (const std::filesystem::filesystem_error& error) {
        remark("standproud: {}\n", error.what());
        return bad_input;
    } catch (const std::exception& error) {
        remark("standproud: internal fault: {}\n", error.what());
        return internal_fault;
    }
}
