// The program as a person runs it: each case is a command line, its exit status and something it must print.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <ostream>

#include "modeler/files.hpp"
#include "support/jobs.hpp"

namespace standproud {
namespace {

using testing::Folder;

struct Outcome {
    int status = 0;
    std::string text;  ///< both streams
};

Outcome run(const Folder& folder, const std::string& arguments) {
    const std::string command = fmt::format("cd '{}' && {}", folder.path().string(), arguments);
    FILE* pipe = popen(("(" + command + ") 2>&1 </dev/null").c_str(), "r");
    Outcome result;
    std::array<char, 4096> buffer{};
    while (const std::size_t n = fread(buffer.data(), 1, buffer.size(), pipe)) result.text.append(buffer.data(), n);
    const int status = pclose(pipe);
    result.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128;
    return result;
}

/// S is the program, CLEAR TIGHT FAILS UNKNOWN BAD are job files.
std::string filled(std::string command) {
    const std::pair<const char*, const char*> words[] = {{"S ", STANDPROUD_PROGRAM " "}};
    for (const auto& [word, text] : words) {
        for (std::size_t at = 0; (at = command.find(word, at)) != std::string::npos; at += std::string(text).size()) {
            if (at == 0 || command[at - 1] == ' ' || command[at - 1] == ';')
                command.replace(at, std::string(word).size(), text);
        }
    }
    return command;
}

std::string job(const std::string& spindle, const std::string& seat) {
    return testing::recess(fmt::format(
        "[[types]]\nid = \"tap\"\nname = \"tap\"\nfamily = \"spindle\"\ntrade = \"plumber\"\nconnection = \"s\"\n"
        "spindle_length = \"{} +/- 0.5\"\nproud_min = 20\nproud_max = 32\n"
        "parts = [{{role = \"spindle\", from = \"seat\", diameter = 10, start = -5, length = 57}}, "
        "{{role = \"flange\", from = \"face\", diameter = 60, start = 0, length = 4}}]\n"
        "holes = [{{diameter = 36, passes = 10}}]\nflanges = [{{diameter = 66}}]\n"
        "[[stock]]\nid = \"ext-15\"\nname = \"15 mm extension\"\nkind = \"extension\"\nfits = \"s\"\nadds = \"15 +/- "
        "0.3\"\n"
        "[[fittings]]\nid = \"hot\"\ntype = \"tap\"\nwall = \"back\"\nacross = 300\nfrom = \"left bare\"\nheight = "
        "1000\n{}",
        spindle, seat));
}

void fill(const Folder& folder) {
    write_whole(folder / "clear.toml", job("52", "seat = \"-10 +/- 2\"\n"));
    write_whole(folder / "tight.toml", job("48", "seat = \"-10 +/- 2\"\n"));
    write_whole(folder / "fails.toml", job("40", "seat = \"-10 +/- 2\"\n"));
    const std::string widths =
        "[survey]\n[[survey.widths]]\nwall = \"back\"\nheight = 1200\nvalue = 1201\n"
        "[[survey.widths]]\nwall = \"back\"\nheight = 300\nvalue = 1202\n"
        "[[survey.widths]]\nwall = \"back\"\nheight = 700\nvalue = 1201\n"
        "[[survey.widths]]\nwall = \"back\"\nheight = 2100\nvalue = 1200\n";
    write_whole(folder / "survey.toml", job("52", "seat = \"-10 +/- 2\"\n") + widths);
    write_whole(folder / "blunder.toml", job("52", "seat = \"-10 +/- 2\"\n") + widths +
                                             "[[survey.widths]]\nwall = \"back\"\nheight = 1600\nvalue = 1221\n");
    write_whole(folder / "unknown.toml", job("52", ""));
    write_whole(
        folder / "fixed.toml",
        job("52",
            "seat = \"-10 +/- 2\"\n[fittings.as_built]\ndate = 2026-03-31\nby = \"Jo\"\nseat = \"-25 +/- 0.5\"\n"));
    const auto bench = [](int driest) {
        return job("52", "seat = \"-10 +/- 2\"\n") +
               fmt::format(
                   "[[sheets]]\nid = \"whole\"\nwidth = 1250\nheight = 2500\nturning = true\n"
                   "[bench]\nkerf = 3\ntrim = 5\nfixed_at = 16\ncoldest = 12\nhottest = 30\nfixed_humidity = 60\n"
                   "driest = {}\nwettest = 80\nsealant_depth = 5\ncartridge = 300\nwaste = 10\nreach = 25\n"
                   "sealant_class = \"25\"\nsaw = \"circular\"\nstart = 2026-06-15\n",
                   driest);
    };
    write_whole(folder / "bench.toml", bench(50));
    write_whole(folder / "dry.toml", bench(40));  // the sealant is stretched beyond its class
    write_whole(folder / "bad.toml", job("52", "seet = -10\n"));
}

struct Case {
    const char* command;
    int status;
    const char* says;
};

// Names the case when it fails.
std::ostream& operator<<(std::ostream& out, const Case& c) { return out << c.command; }

class CommandLine : public ::testing::TestWithParam<Case> {};

TEST_P(CommandLine, StatusAndText) {
    const Folder folder;
    fill(folder);
    const Outcome result = run(folder, filled(GetParam().command));
    EXPECT_EQ(result.status, GetParam().status) << result.text;
    EXPECT_NE(result.text.find(GetParam().says), std::string::npos) << result.text;
}

INSTANTIATE_TEST_SUITE_P(
    Program, CommandLine,
    ::testing::Values(
        Case{"S --version", 0, "standproud " STANDPROUD_VERSION},  //
        Case{"S --help", 0, "Example: standproud check"}, Case{"S check --help", 0, "Exit status: 0"},
        Case{"S export --help", 0, "Example: standproud export"},
        Case{"S sections --help", 0, "Example: standproud sections"},
        Case{"S new --help", 0, "Example: standproud new"}, Case{"S ", 2, "subcommand is required"},
        Case{"S frobnicate", 2, "unknown command frobnicate"}, Case{"S chekc a.toml", 2, "did you mean check?"},
        Case{"S check --stric clear.toml", 2, "--stric"}, Case{"S check", 2, "JOB is required"},
        Case{"S check clear.toml --format xml", 2, "xml"}, Case{"S check clear.toml", 0, "+ clear"},
        Case{"S check clear.toml", 0, "5 findings: 5 clear, 0 tight, 0 fail, 0 unknown"},
        // The kernel and its libraries are loaded by the commands that need them only.
        Case{"ldd S | grep libTK", 1, ""}, Case{"ldd $(dirname S )/standproud-solids | grep -q libTK", 0, ""},
        Case{"S check fails.toml --no-advice", 1, "FAILS"},
        Case{"S check fails.toml --no-advice | grep -e '->'", 1, ""},
        Case{"S check fails.toml | grep -e '->'", 0, "Fit"},
        Case{"S check fails.toml --no-advice --format json | grep -e '\"do\"' | sort -u", 0, "\"do\": \"\","},
        Case{"S check clear.toml --arithmetic", 0, "spindle length"}, Case{"S check tight.toml", 0, "~ tight"},
        Case{"S check tight.toml --strict", 1, "~ tight"}, Case{"S check fails.toml", 1, "X FAILS"},
        Case{"S check fails.toml", 1, "Fit 15 mm extension (ext-15)"}, Case{"S check unknown.toml", 1, "? unknown"},
        Case{"S check bad.toml", 2, "bad.toml:67:1: unknown key seet; did you mean seat?"},
        Case{"S check bad.toml clear.toml", 2, "+ clear"}, Case{"S check clear.toml fails.toml", 1, "X FAILS"},
        Case{"S check gone.toml", 2, "cannot read gone.toml: No such file or directory"},
        Case{"S check .", 2, "cannot read .: Is a directory"},
        Case{"S check fails.toml --format json", 1, "\"format\": \"standproud-report/1\""},
        Case{"S check bad.toml --format json", 2, "\"refused\""}, Case{"S check fixed.toml", 1, "AS BUILT"},
        Case{"S check fixed.toml", 1, "hot measured 2026-03-31 by Jo"},
        Case{"S check fixed.toml", 1, "WORSE   hot (reach.spindle): + clear -> X FAILS"},
        Case{"S check bench.toml", 0, "~ tight    recess (panel.movement)"},
        Case{"S bench dry.toml -o out", 1, "check finds 2 failing"},
        // 1196 mm of panel: by 14 K and 0.1 % it closes by 2.37, by 4 K and 0.0667 % it opens by 1.13, over 25 % of 4.
        Case{"S check dry.toml", 1,
             "X FAILS    recess (panel.movement): base of left-1: 4 mm as drawn; hot and wet 1.63 mm"},
        Case{"S check dry.toml", 1, "stretched 28.3 %; class 25"},
        Case{"sed 's/^.panels.$/[panels]\\ngap = 10/' dry.toml >wide.toml; S check wide.toml", 0, "0 tight, 0 fail"},
        Case{"sed 's/^.panels.$/[walls.gaps]\\nbotom = 10\\n&/' bench.toml >slip.toml; S check slip.toml", 2,
             "unknown key botom; did you mean bottom?"},
        Case{"S bench bench.toml -o out >/dev/null; cat out/bench.txt", 0, "ORDER OF LINING"},
        Case{"S setout --help", 0, "Example: standproud setout"},
        Case{"S setout clear.toml", 0, "WALL back: 1200 wide"},
        Case{"S setout clear.toml --format csv", 0, "back,hot,hot,plumber,300.0,900.0,283.0,883.0,1000.0,,,-10.0"},
        Case{"S setout clear.toml --format json", 0, "standproud-setout/1"},
        Case{"S setout clear.toml -o out && ls out", 0, "back.pdf\nback.png\nback.svg"},
        Case{"S setout bad.toml", 2, "unknown key seet"}, Case{"S survey --help", 0, "Example: standproud survey"},
        Case{"S export clear.toml --step clash.step --with-clashes", 0, "0 overlaps on the layer clash"},
        Case{"S export " STANDPROUD_SOURCE_DIR "/models/level-entry.toml --step c.step --with-clashes && grep -c "
             "\"access.swing: door/swing in\" c.step",
             0, "overlaps on the layer clash"},
        Case{"S survey clear.toml", 2, "the job has no [survey]"}, Case{"S survey survey.toml", 0, "ASSUMED"},
        Case{"S check survey.toml", 0, "Walls stand as surveyed"}, Case{"S survey blunder.toml", 1, "MEASURE AGAIN"},
        Case{"S compare --help", 0, "Example: standproud compare"}, Case{"S compare clear.toml", 2, "NEW is required"},
        Case{"S compare clear.toml bad.toml", 2, "unknown key seet"},
        Case{"S compare clear.toml clear.toml", 0, "nothing changed"},
        Case{"S compare clear.toml fails.toml", 1, "1 verdict got worse, 0 better"},
        Case{"S compare fails.toml clear.toml", 0, "0 verdicts got worse, 1 better"},
        Case{"S compare clear.toml fixed.toml", 1, "(15 mm further in)"},
        Case{"S compare clear.toml fixed.toml --format json", 1, "standproud-comparison/1"},
        Case{"S export clear.toml", 2, "--step is required"},
        Case{"S export bad.toml --step out.step; test ! -e out.step && echo nothing written", 0, "nothing written"},
        Case{"S export clear.toml --step no/such/out.step", 2, "No such file or directory"},
        Case{"S export clear.toml --step out.step", 0, "solids"},
        Case{"S sections bad.toml -o out; test ! -e out && echo nothing written", 0, "nothing written"},
        Case{"S sections clear.toml -o out && ls out", 0, "hot.pdf\nhot.png\nhot.svg"},
        Case{"S bench --help", 0, "Example: standproud bench"}, Case{"S bench bench.toml", 2, "--output is required"},
        Case{"S bench clear.toml -o out; test ! -e out && echo nothing written", 0,
             "clear.toml: the job has no [bench]"},
        Case{"S bench bad.toml -o out", 2, "unknown key seet"},
        Case{"S bench bench.toml bench.toml -o out", 2, "the job is given twice"},
        Case{"S bench bench.toml -o out", 0, "REAR FACE UP"},
        Case{"S bench bench.toml -o out > text && cmp text out/bench.txt && ls out", 0,
             "bench.csv\nbench.ics\nbench.json\nbench.txt"},
        Case{"S bench bench.toml -o out >/dev/null", 0, "wrote out/drawings/wall-back.pdf .svg .png"},
        Case{"S bench bench.toml -o out >/dev/null 2>&1 && ls out/drawings.pdf out/drawings/*rear* out/router", 0,
             "out/drawings.pdf\nout/drawings/panel-back-1-rear.pdf\nout/drawings/panel-back-1-rear.png"},
        Case{"mkdir -p full/router/panel-back-1-front-face-up.svg; S bench bench.toml -o full >/dev/null; echo $?; ls "
             "-A full",
             0, "Is a directory\n2\nrouter\n"},
        Case{"S bench bench.toml -o out >/dev/null 2>&1; sed 's/\"back\"/\"hind\"/' bench.toml >hind.toml; S bench "
             "hind.toml -o out >/dev/null; find out -name '*back*'",
             0, "removed out/router/panel-back-1-front-face-up.svg: written by an earlier run, not by this one"},
        Case{"S bench bench.toml -o out >/dev/null 2>&1; sed 's/\"back\"/\"hind\"/' bench.toml >hind.toml; echo mine "
             ">>out/router/panel-back-1-front-face-up.svg; echo own >out/router/back.txt; S bench hind.toml -o out "
             ">/dev/null 2>told; find out -name '*back*' | sort; grep LEFT told",
             0,
             "out/router/back.txt\nout/router/panel-back-1-front-face-up.svg\nLEFT "
             "out/router/panel-back-1-front-face-up.svg: written by an earlier run, not by this one; it was changed "
             "since"},
        Case{"S bench bench.toml -o out >/dev/null 2>&1; sed 's/\"back\"/\"hind\"/' bench.toml >hind.toml; rm "
             "out/router/*; mkdir out/router/panel-hind-1-front-face-up.svg; S bench hind.toml -o out >/dev/null 2>&1; "
             "echo $?; ls out/drawings/panel-back-1-rear.pdf out/written.txt",
             0, "2\nout/drawings/panel-back-1-rear.pdf\nout/written.txt"},
        Case{"S bench bench.toml -o out >/dev/null 2>&1; echo precious >precious; printf '9 0000000000000000 "
             "../precious\\n9 x /etc/hostname\\n' >>out/written.txt; S bench bench.toml -o out >/dev/null 2>told; cat "
             "precious; grep -c 'removed\\|LEFT' told",
             1, "precious\n0\n"},
        Case{"S bench bench.toml -o out --format json", 0, "\"format\": \"standproud-bench/1\""},
        Case{"S bench bench.toml -o out --format csv", 0, "file,of,what,name,step,tool"},
        Case{"S bench bench.toml -o bench.toml", 2, "cannot make folder"},
        Case{"S new new.toml", 2, "answers are missing"},
        Case{"S new new.toml --walls 4 --width 900 --height 2000", 2, "4"},
        Case{"S new clear.toml --walls 1 --width 900 --height 2000", 2, "there already"},
        Case{"S new - --walls 1 --width 900 --height 2000", 0, "[[walls]]"},
        Case{"S new new.toml --walls 1 --width 900 --height 2000 && S check new.toml", 1, "? unknown"},
        Case{"S new new.toml --walls 2 --width 900 --depth 800 --height 2000 && S check new.toml", 1, "? unknown"},
        Case{"S new new.toml --name 'Sch\u00f6n \"x\\y\"' --walls 3 --width 900 --depth 800 --height 2000 && S check "
             "new.toml",
             1, "Sch\u00f6n \"x\\y\""},
        Case{"printf '3\\n1200\\n900\\nx\\n2400\\n' > a; S new new.toml < a && S check new.toml", 1, "WALL left"}));

TEST(Program, JsonIsOneDocumentOnStandardOutput) {
    const Folder folder;
    fill(folder);
    const Outcome result = run(folder, filled("S check clear.toml bad.toml fails.toml --format json 2>/dev/null"));
    EXPECT_EQ(result.status, 2);
    const auto report = nlohmann::json::parse(result.text);
    EXPECT_EQ(report["jobs"].size(), 2u);
    EXPECT_EQ(report["jobs"][1]["findings"][0]["remedy"]["item"], "ext-15");
    EXPECT_EQ(report["refused"][0]["faults"][0]["at"]["line"], 67);
}

TEST(Program, TheSameJobGivesTheSameFiles) {
    const Folder folder;
    fill(folder);
    for (const char* name : {"a", "b"}) {
        const Outcome result = run(
            folder, filled(fmt::format("S export fails.toml --step {0}.step && S sections fails.toml -o {0}", name)));
        ASSERT_EQ(result.status, 0) << result.text;
    }
    EXPECT_EQ(read_whole(folder / "a.step"), read_whole(folder / "b.step"));
    for (const char* file : {"hot.pdf", "hot.svg", "hot.png"}) {
        EXPECT_EQ(read_whole(folder / fmt::format("a/{}", file)), read_whole(folder / fmt::format("b/{}", file)))
            << file;
    }
}

TEST(Program, AFailedWriteLeavesTheOldFile) {
    const Folder folder;
    fill(folder);
    write_whole(folder / "old.step", "old");
    // A folder in the way of the file cannot be replaced.
    std::filesystem::create_directory(folder / "way.step");
    EXPECT_EQ(run(folder, filled("S export clear.toml --step way.step")).status, 2);
    EXPECT_TRUE(std::filesystem::is_directory(folder / "way.step"));
    EXPECT_EQ(run(folder, filled("S export bad.toml --step old.step")).status, 2);
    EXPECT_EQ(read_whole(folder / "old.step"), "old");
    for (const auto& entry : std::filesystem::directory_iterator(folder.path())) {
        EXPECT_EQ(entry.path().string().find(".step."), std::string::npos) << "left behind: " << entry.path();
    }
}

TEST(Program, TheReadmeShowsARealRun) {
    const std::string readme = read_whole(STANDPROUD_SOURCE_DIR "/README.md");
    const std::string mark = "<!-- run: check models/twin-taps.toml -->\n```text\n";
    const auto from = readme.find(mark);
    ASSERT_NE(from, std::string::npos);
    const auto to = readme.find("```", from + mark.size());
    FILE* pipe = popen("cd " STANDPROUD_SOURCE_DIR " && " STANDPROUD_PROGRAM " check models/twin-taps.toml", "r");
    std::string printed;
    std::array<char, 4096> buffer{};
    while (const std::size_t n = fread(buffer.data(), 1, buffer.size(), pipe)) printed.append(buffer.data(), n);
    pclose(pipe);
    EXPECT_EQ(readme.substr(from + mark.size(), to - from - mark.size()), printed);
}

TEST(Program, LinksInTheGuidesLeadSomewhere) {
    int links = 0;
    for (const char* page : {"README.md", "DEVELOPERS.md", "models/README.md"}) {
        const auto path = std::filesystem::path(STANDPROUD_SOURCE_DIR) / page;
        const std::string text = read_whole(path);
        for (std::size_t at = text.find("]("); at != std::string::npos; at = text.find("](", at + 1)) {
            const std::string target = text.substr(at + 2, text.find(')', at) - at - 2);
            if (target.find(' ') != std::string::npos || target.find("://") != std::string::npos) continue;
            EXPECT_TRUE(std::filesystem::exists(path.parent_path() / target)) << page << ": " << target;
            ++links;
        }
    }
    EXPECT_GT(links, 4);
}

TEST(Program, NoColourInAPipe) {
    const Folder folder;
    fill(folder);
    EXPECT_EQ(run(folder, filled("S check fails.toml")).text.find('\033'), std::string::npos);
}

/// With nobody reading standard output, from before the first word; standard error goes to the file "said".
int run_unread(const Folder& folder, const std::string& arguments) {
    int ends[2];
    if (::pipe(ends) != 0) return -1;
    ::close(ends[0]);
    const std::string command = fmt::format("cd '{}' && exec {} 2>said", folder.path().string(), arguments);
    const pid_t process = ::fork();
    if (process == 0) {
        ::dup2(ends[1], STDOUT_FILENO);
        ::execl("/bin/sh", "sh", "-c", command.c_str(), static_cast<char*>(nullptr));
        ::_exit(127);
    }
    ::close(ends[1]);
    int status = -1;
    ::waitpid(process, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

/// Every command that says something on standard output, whatever its verdict.
const char* const speaking[] = {"S --version",
                                "S --help",
                                "S check clear.toml",
                                "S check clear.toml fails.toml --format json",
                                "S compare clear.toml fails.toml",
                                "S setout clear.toml",
                                "S setout clear.toml --format csv",
                                "S survey survey.toml",
                                "S export clear.toml --step out.step",
                                "S sections clear.toml -o out",
                                "S bench bench.toml -o out --format csv",
                                "S joins bench.toml",
                                "S new - --walls 1 --width 900 --height 2000",
                                "S new new.toml --replace --walls 1 --width 900 --height 2000"};

// /dev/full (Linux, full(4)) takes nothing, as a full disk.
TEST(Program, WhatCannotBePrintedIsSaid) {
    const Folder folder;
    fill(folder);
    for (const char* command : speaking) {
        const Outcome result = run(folder, filled(fmt::format("{} >/dev/full", command)));
        EXPECT_EQ(result.status, 2) << command << "\n" << result.text;
        EXPECT_NE(result.text.find("standproud: cannot write standard output: No space left on device\n"),
                  std::string::npos)
            << command << "\n"
            << result.text;
    }
    EXPECT_EQ(run(folder, filled("S check clear.toml >&-")).status, 2);
}

// 141 = 128 + SIGPIPE (13), as POSIX shells say it of a program that a broken pipe ended.
TEST(Program, AReaderThatWentAwayIsToldNothing) {
    const Folder folder;
    fill(folder);
    for (const char* command : speaking) {
        EXPECT_EQ(run_unread(folder, filled(command)), 141) << command;
        EXPECT_EQ(read_whole(folder / "said").find("standproud"), std::string::npos) << command;
    }
}

/// The second read of `file` fails as on a spoilt disk. Under sanitizers nobody looks for leaks: that needs what strace
/// uses itself.
std::string with_spoilt(const std::string& file, const std::string& command) {
    return fmt::format(
        "ASAN_OPTIONS=detect_leaks=0 strace -qq -f -o /dev/null -P \"$PWD/{}\" -e inject=read:error=EIO:when=2 {}",
        file, command);
}

TEST(Program, AReadThatFailsHalfWayIsTold) {
    const Folder folder;
    fill(folder);
    const std::string whole = read_whole(folder / "clear.toml");
    const std::string name = "name = \"";
    const auto types = whole.find("[[types]]");
    const auto fittings = whole.find("[[fittings]]");
    ASSERT_LT(types, fittings);
    write_whole(folder / "goods.toml", whole.substr(types, fittings - types));
    std::string rest = whole.substr(0, types) + whole.substr(fittings);
    ASSERT_NE(rest.find("[job]\n"), std::string::npos);
    write_whole(folder / "uses.toml", rest.insert(rest.find("[job]\n") + 6, "catalogue = [\"goods.toml\"]\n"));
    ASSERT_EQ(run(folder, filled("S check uses.toml")).status, 0);
    ASSERT_EQ(run(folder, filled("S bench bench.toml -o out")).status, 0);
    const std::pair<const char*, const char*> cases[] = {
        {"clear.toml", "check clear.toml"},
        {"fails.toml", "check clear.toml fails.toml"},
        {"goods.toml", "check uses.toml"},
        {"clear.toml", "compare clear.toml fails.toml"},
        {"fails.toml", "compare clear.toml fails.toml"},
        {"goods.toml", "compare clear.toml uses.toml"},
        {"clear.toml", "setout clear.toml"},
        {"survey.toml", "survey survey.toml"},
        {"clear.toml", "export clear.toml --step out.step"},
        {"clear.toml", "sections clear.toml -o sections"},
        {"bench.toml", "bench bench.toml -o bench"},
        {"out/written.txt", "bench bench.toml -o out"},
        {"bench.toml", "joins bench.toml"},
        {"clear.toml", "view clear.toml --snapshot out.png"},
    };
    for (const auto& [file, command] : cases) {
        const Outcome result = run(folder, with_spoilt(file, filled(fmt::format("S {}", command))));
        EXPECT_EQ(result.status, 2) << command << "\n" << result.text;
        EXPECT_NE(result.text.find(fmt::format("cannot read {}: Input/output error", file)), std::string::npos)
            << command << "\n"
            << result.text;
    }
    for (const char* none : {"out.step", "sections", "bench", "out.png"})
        EXPECT_FALSE(std::filesystem::exists(folder / none)) << none;
}

// A pipe would be waited for without end: refused before it is opened.
TEST(Program, WhatIsNoFileIsNotRead) {
    const Folder folder;
    fill(folder);
    ASSERT_EQ(::mkfifo((folder / "pipe.toml").c_str(), 0600), 0);
    for (const char* command : {"check pipe.toml", "check clear.toml pipe.toml", "compare clear.toml pipe.toml",
                                "compare pipe.toml clear.toml", "setout pipe.toml", "survey pipe.toml",
                                "export pipe.toml --step out.step", "sections pipe.toml -o out",
                                "bench pipe.toml -o out", "joins pipe.toml", "view pipe.toml --snapshot out.png"}) {
        const Outcome result = run(folder, "timeout 60 " + filled(fmt::format("S {}", command)));
        EXPECT_EQ(result.status, 2) << command;
        EXPECT_NE(result.text.find("cannot read pipe.toml: it is a pipe, not a file"), std::string::npos)
            << command << "\n"
            << result.text;
    }
    EXPECT_NE(run(folder, filled("S check /dev/null")).text.find("cannot read /dev/null: it is a device, not a file"),
              std::string::npos);
    // The window's settings: the next writing of them would lose what cannot be read.
    std::filesystem::create_directories(folder / "home/standproud/window");
    const Outcome window = run(folder, "XDG_CONFIG_HOME=home " + filled("S view clear.toml"));
    EXPECT_EQ(window.status, 2);
    EXPECT_NE(window.text.find("cannot read home/standproud/window: Is a directory"), std::string::npos) << window.text;
}

// Links are followed and stay; what is no file stays what it is.
TEST(Program, WritesThroughLinksAndOverNothingElse) {
    struct Written {
        const char* command;
        const char* target;
    };
    for (const auto& [command, target] :
         {Written{"S export clear.toml --step out.step", "out.step"}, Written{"S sections clear.toml -o .", "hot.pdf"},
          Written{"S setout clear.toml -o .", "back.svg"}, Written{"S bench bench.toml -o .", "bench.ics"},
          Written{"S bench bench.toml -o .", "written.txt"},
          Written{"S new new.toml --replace --walls 1 --width 900 --height 2000", "new.toml"}}) {
        SCOPED_TRACE(command);
        // A file that was there, and for one command a link to one that is still to be made.
        for (const std::string& there : std::vector<std::string>{"old", ""}) {
            if (there.empty() && std::string(target) != "out.step") continue;
            const Folder folder;
            fill(folder);
            std::filesystem::create_directory(folder / "real");
            if (!there.empty()) write_whole(folder / "real/file", there);
            if (!there.empty()) std::filesystem::permissions(folder / "real/file", std::filesystem::perms::owner_read);
            std::filesystem::create_symlink("real/file", folder / "link");
            std::filesystem::create_symlink("link", folder / target);
            const Outcome result = run(folder, filled(command));
            EXPECT_EQ(result.status, 0) << result.text;
            EXPECT_EQ(std::filesystem::read_symlink(folder / target), "link");
            EXPECT_EQ(std::filesystem::read_symlink(folder / "link"), "real/file");
            EXPECT_GT(read_whole(folder / "real/file").size(), 100U);
            // Of a file that was there the mode stays.
            using std::filesystem::perms;
            const auto mode = !there.empty() ? perms::owner_read : static_cast<perms>(0644);
            EXPECT_EQ(std::filesystem::status(folder / "real/file").permissions(), mode);
            for (const auto& entry : std::filesystem::directory_iterator(folder / "real"))
                EXPECT_EQ(entry.path().filename(), "file");
        }
        const Folder folder;
        fill(folder);
        ASSERT_EQ(::mkfifo((folder / target).c_str(), 0600), 0);
        const Outcome result = run(folder, "timeout 60 " + filled(command));
        EXPECT_EQ(result.status, 2) << result.text;
        EXPECT_NE(result.text.find("it is a pipe, not a file"), std::string::npos) << result.text;
        EXPECT_TRUE(std::filesystem::is_fifo(folder / target));
    }
    const Folder folder;
    fill(folder);
    std::filesystem::create_symlink("/dev/null", folder / "out.step");
    EXPECT_EQ(run(folder, filled("S export clear.toml --step out.step")).status, 2);
    EXPECT_TRUE(std::filesystem::is_character_file("/dev/null"));
    std::filesystem::create_symlink("b", folder / "a");
    std::filesystem::create_symlink("a", folder / "b");
    EXPECT_EQ(run(folder, filled("S export clear.toml --step a")).status, 2);
}

/// The jobs with names that take a terminal over: ECMA-48 controls, C1 as UTF-8, and turned writing.
void fill_steering(const Folder& folder) {
    fill(folder);
    for (const char* name : {"clear", "fails", "survey", "bench"}) {
        std::string text = read_whole(folder / fmt::format("{}.toml", name));
        for (const char* key : {"name = \"", "datum = \""}) {
            for (std::size_t at = text.find(key); at != text.npos; at = text.find(key, at + 1)) {
                at += std::string(key).size();
                text.insert(at, "=1+\\u001b[8m\\u009b8m\\u202e\\u0007\\r\\n");
            }
        }
        write_whole(folder / fmt::format("{}.toml", name), text);
    }
}

bool steers(const std::string& text) {
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto c = static_cast<unsigned char>(text[i]);
        if ((c < 0x20 && c != '\n' && text.compare(i, 2, "\r\n") != 0) || c == 0x7f) return true;
        if (c == 0xc2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) < 0xa0) return true;
    }
    return text.find("\u202e") != text.npos;
}

TEST(Program, NamesDoNotSteerATerminal) {
    const Folder folder;
    fill_steering(folder);
    write_whole(folder / "slip.toml", read_whole(folder / "bad.toml") + "\"\\u001b[8m\\u202e\" = \"\\u001b[8m\"\n");
    write_whole(folder / "\033[8m\u202e.toml", read_whole(folder / "bad.toml"));
    std::filesystem::copy_file(folder / "clear.toml", folder / "\033]0;x\a.toml");
    for (const char* command :
         {"S check clear.toml", "S check fails.toml --arithmetic", "S check clear.toml --format json",
          "S compare clear.toml fails.toml", "S compare clear.toml fails.toml --format json", "S setout clear.toml",
          "S setout clear.toml --format csv", "S setout clear.toml --format json", "S survey survey.toml",
          "S joins bench.toml", "S sections clear.toml -o out", "S check slip.toml", "S check *8m*.toml",
          "S check *x*.toml", "S export *x*.toml --step *x*.toml/y", "S check \"$(printf 'no\\033[8m.toml')\"",
          "S \"$(printf '\\033[8m')\"", "S check \"$(printf -- '--\\033[8m')\"",
          "S new - --walls 1 --width 900 "
          "--height 2000 --name \"$(printf '\\033[8m')\""}) {
        const Outcome result = run(folder, filled(command));
        EXPECT_FALSE(steers(result.text)) << command << "\n" << result.text;
        EXPECT_NE(result.text, "") << command;
        EXPECT_NE(result.status, 3) << command << "\n" << result.text;
    }
    // At a terminal (script gives one) the report's own colours are all there is.
    const Outcome seen = run(folder, fmt::format("script -qec '{}' /dev/null", filled("S check clear.toml")));
    EXPECT_NE(seen.text.find("\033[36m+ clear\033[0m"), std::string::npos) << seen.text;
    EXPECT_EQ(seen.text.find("\033[8m"), std::string::npos);
    EXPECT_EQ(seen.text.find('\a'), std::string::npos);
}

// OWASP, CSV injection (published): a cell that begins with = + - @ is worked out by a spreadsheet.
TEST(Program, NoNameIsAFormulaInATable) {
    const Folder folder;
    fill_steering(folder);
    for (const char* command :
         {"S setout clear.toml --format csv", "S bench bench.toml -o out --format csv 2>/dev/null"}) {
        std::string text = run(folder, filled(command)).text;
        for (const char* start : {"\n=", ",=", "\"=", "\n+", ",+", ",@"})
            EXPECT_EQ(text.find(start), std::string::npos) << command << "\n" << text;
    }
    // The depth stays the number that it is.
    EXPECT_NE(run(folder, filled("S setout clear.toml --format csv")).text.find(",-10.0,"), std::string::npos);
}

}  // namespace
}  // namespace standproud
