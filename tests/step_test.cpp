#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <TColStd_HSequenceOfExtendedString.hxx>
#include <TCollection_AsciiString.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <XCAFDoc_Area.hxx>
#include <XCAFDoc_Centroid.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_LayerTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XCAFDoc_Volume.hxx>
#include <filesystem>
#include <map>
#include <set>
#include <thread>

#include "../modeler/exchange/step_text.hpp"
#include "../modeler/solids/quiet.hpp"
#include "modeler/clean_text.hpp"
#include "modeler/exchange.hpp"
#include "modeler/files.hpp"
#include "modeler/solids.hpp"
#include "sample_parts.hpp"

namespace standproud {

namespace {

namespace fs = std::filesystem;
using samples::Dice;
using samples::plate;

/// A folder of its own, gone with the test.
class Folder {
  public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "step-test-XXXXXX").string();
        if (!::mkdtemp(name.data())) throw std::runtime_error("no folder for the test");
        path_ = name;
    }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    [[nodiscard]] fs::path operator/(const char* name) const { return path_ / name; }
    [[nodiscard]] const fs::path& path() const { return path_; }
    [[nodiscard]] std::vector<std::string> files() const {
        std::vector<std::string> names;
        for (const auto& entry : fs::directory_iterator(path_)) names.push_back(entry.path().filename().string());
        return names;
    }

  private:
    fs::path path_;
};

/// A small job of every trade, with names that need care.
std::vector<Part> small_job() {
    Part stud = plate("back/stud-1", 45, 2400, 90);
    stud.name = "stud at 300";
    stud.trade = "builder";
    stud.layer = "frame";
    stud.wall = "back";
    Part tray = plate("tray", 1200, 900, 40);
    tray.name = "Wanne \\ 'flach' №7";
    tray.trade = "plumber";
    tray.layer = "tray";
    Part panel = plate("back/panel-1", 1200, 900, 6);
    panel.name = "panel";
    panel.wall = "back";
    panel.holes.emplace_back(RoundedRect::circle({400, 300}, 35));
    panel.place = {{0, 90, 300}, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}};
    Part rose = plate("overhead/rose", 1, 1, 12);
    rose.name = "Brausekopf ø 200";
    rose.trade = "plumber";
    rose.layer = "rose";
    rose.wall = "back";
    rose.fitting = "overhead";
    rose.outline = RoundedRect::circle({0, 0}, 200);
    Part nipple = rose;
    nipple.id = "overhead/nipple";
    nipple.name = "雨 😀 nipple";
    nipple.layer = "";
    nipple.outline = RoundedRect::circle({0, 0}, 21);
    return {stud, tray, panel, rose, nipple};
}

std::string text(const TCollection_ExtendedString& kernel) { return TCollection_AsciiString(kernel).ToCString(); }

std::string name_of(const TDF_Label& label) {
    Handle(TDataStd_Name) name;
    return label.FindAttribute(TDataStd_Name::GetID(), name) ? text(name->Get()) : "";
}

/// A part as another program finds it.
struct Found {
    std::string instance;
    std::string layer;
    Colour colour{-1, -1, -1};
    double volume = 0;         ///< of the solid
    double stated_volume = 0;  ///< the validation properties
    double stated_area = 0;
    gp_Pnt stated_centre;
};

class ReadBack {
  public:
    explicit ReadBack(const fs::path& path) : document_(new TDocStd_Document("test")) {
        const Quiet quiet;
        STEPCAFControl_Reader reader;
        reader.SetColorMode(true);
        reader.SetNameMode(true);
        reader.SetLayerMode(true);
        reader.SetPropsMode(true);
        if (reader.ReadFile(path.c_str()) != IFSelect_RetDone) throw std::runtime_error("not read");
        XCAFDoc_DocumentTool::Set(document_->Main(), false);
        if (!reader.Transfer(document_)) throw std::runtime_error("not transferred");
        TDF_LabelSequence roots;
        XCAFDoc_DocumentTool::ShapeTool(document_->Main())->GetFreeShapes(roots);
        for (int i = 1; i <= roots.Length(); ++i) walk(roots.Value(i), "", "");
    }
    /// By the names from the root to the part, with " > " between.
    std::multimap<std::string, Found> parts;

  private:
    void walk(const TDF_Label& product, const std::string& above, const std::string& instance) {
        const std::string path = above.empty() ? name_of(product) : above + " > " + name_of(product);
        TDF_LabelSequence uses;
        if (!XCAFDoc_ShapeTool::GetComponents(product, uses)) {
            parts.emplace(path, found(product, instance));
            return;
        }
        for (int i = 1; i <= uses.Length(); ++i) {
            TDF_Label used;
            XCAFDoc_ShapeTool::GetReferredShape(uses.Value(i), used);
            walk(used, path, name_of(uses.Value(i)));
        }
    }

    Found found(const TDF_Label& label, const std::string& instance) {
        Found f;
        f.instance = instance;
        const TopoDS_Shape shape = XCAFDoc_ShapeTool::GetShape(label);
        f.volume = solid_volume(shape);
        Quantity_Color colour;
        if (XCAFDoc_DocumentTool::ColorTool(document_->Main())->GetColor(shape, XCAFDoc_ColorSurf, colour)) {
            double rgb[3] = {};
            colour.Values(rgb[0], rgb[1], rgb[2], Quantity_TOC_sRGB);
            const auto whole = [](double x) { return static_cast<int>(std::lround(x * 255)); };
            f.colour = {whole(rgb[0]), whole(rgb[1]), whole(rgb[2])};
        }
        Handle(TColStd_HSequenceOfExtendedString) layers;
        XCAFDoc_DocumentTool::LayerTool(document_->Main())->GetLayers(label, layers);
        for (int i = 1; !layers.IsNull() && i <= layers->Length(); ++i) f.layer += text(layers->Value(i));
        XCAFDoc_Volume::Get(label, f.stated_volume);
        XCAFDoc_Area::Get(label, f.stated_area);
        XCAFDoc_Centroid::Get(label, f.stated_centre);
        return f;
    }

    Handle(TDocStd_Document) document_;
};

std::string written(const std::vector<Part>& parts, const StepHeader& header = {"Bad 1", "B"}) {
    const Folder folder;
    write_step(parts, header, folder / "job.stp");
    return read_whole(folder / "job.stp");
}

std::vector<Part> random_parts(int count) {
    Dice dice(samples::seed());
    std::vector<Part> parts;
    for (int i = 0; i < count; ++i) parts.push_back(samples::random_part(dice, i));
    return parts;
}

std::string refusal(const std::vector<Part>& parts, const fs::path& path) {
    try {
        write_step(parts, {"Bad 1", ""}, path);
    } catch (const std::runtime_error& fault) {
        return fault.what();
    }
    return "";
}

/// Where two files differ first, with the line; "" if nowhere. (The framework's own answer takes minutes on files.)
std::string difference(const std::string& a, const std::string& b) {
    if (a == b) return "";
    const auto at = static_cast<std::size_t>(std::mismatch(a.begin(), a.end(), b.begin(), b.end()).first - a.begin());
    const std::size_t start = at == 0 ? 0 : a.rfind('\n', at - 1) + 1;
    return "byte " + std::to_string(at) + ": " + a.substr(start, a.find('\n', at) - start);
}

std::size_t count(const std::string& text, const std::string& word) {
    std::size_t n = 0;
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + word.size())) ++n;
    return n;
}

constexpr const char* child_output = "STANDPROUD_TEST_STEP_OUTPUT";

/// The same job written by this test program, started anew.
std::string written_by_another_process() {
    const Folder folder;
    const std::string path = (folder / "job.stp").string();
    const pid_t child = ::fork();
    if (child == 0) {
        ::setenv(child_output, path.c_str(), 1);
        const int nowhere = ::open("/dev/null", O_WRONLY);
        ::dup2(nowhere, STDOUT_FILENO);
        // A shard of this program would not run it.
        ::unsetenv("GTEST_TOTAL_SHARDS");
        ::unsetenv("GTEST_SHARD_INDEX");
        ::execl("/proc/self/exe", "test", "--gtest_filter=Step.WritesWhereItIsTold", static_cast<char*>(nullptr));
        ::_exit(127);
    }
    int status = -1;
    ::waitpid(child, &status, 0);
    EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    return read_whole(path);
}

/// Root may write anywhere: for a while, be somebody who may not.
class AsNobody {
  public:
    AsNobody() : was_(::geteuid()) {
        if (was_ == 0 && ::seteuid(65534) != 0) throw std::runtime_error("cannot step down");
    }
    ~AsNobody() {
        if (was_ == 0 && ::seteuid(0) != 0) std::abort();
    }
    AsNobody(const AsNobody&) = delete;
    AsNobody& operator=(const AsNobody&) = delete;

  private:
    uid_t was_;
};

/// Files may not grow past `bytes`: a full disk, near enough.
class SmallDisk {
  public:
    explicit SmallDisk(rlim_t bytes) : handler_(::signal(SIGXFSZ, SIG_IGN)) {
        ::getrlimit(RLIMIT_FSIZE, &was_);
        const rlimit small{bytes, was_.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &small);
    }
    ~SmallDisk() {
        ::setrlimit(RLIMIT_FSIZE, &was_);
        ::signal(SIGXFSZ, handler_);
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;

  private:
    rlimit was_{};
    void (*handler_)(int);
};

}  // namespace

// A test by itself, and what written_by_another_process runs.
TEST(Step, WritesWhereItIsTold) {
    const Folder folder;
    const char* asked = std::getenv(child_output);
    const std::string path = asked ? asked : (folder / "job.stp").string();
    write_step(small_job(), {"Bad ø", "B"}, path);
    EXPECT_GT(std::filesystem::file_size(path), 1000u);
}

// Reference library: Open CASCADE 7.6.3 reads back what was put in; the tree is the one exchange.hpp promises.
TEST(Step, TreeAndNamesComeBack) {
    const Folder folder;
    write_step(small_job(), {"Bad Müller", "B"}, folder / "job.stp");
    const ReadBack back(folder / "job.stp");
    const std::multimap<std::string, std::string> wanted = {
        {"Bad Müller > builder > back > stud at 300", "back/stud-1"},
        {"Bad Müller > plumber > Wanne \\ 'flach' №7", "tray"},
        {"Bad Müller > installer > back > panel", "back/panel-1"},
        {"Bad Müller > plumber > back > overhead > Brausekopf ø 200", "overhead/rose"},
        {"Bad Müller > plumber > back > overhead > 雨 😀 nipple", "overhead/nipple"},
    };
    std::multimap<std::string, std::string> got;
    for (const auto& [path, part] : back.parts) got.emplace(path, part.instance);
    EXPECT_EQ(got, wanted);
}

// Reference library: Open CASCADE 7.6.3, against the table of colours and closed-form volumes.
TEST(Step, ColoursLayersAndVolumesComeBack) {
    const Folder folder;
    const auto parts = small_job();
    write_step(parts, {"Bad", ""}, folder / "job.stp");
    std::map<std::string, Found> got;
    for (const auto& [path, part] : ReadBack(folder / "job.stp").parts) got[part.instance] = part;
    ASSERT_EQ(got.size(), parts.size());
    for (const auto& part : parts) {
        SCOPED_TRACE(part.id);
        const Found& found = got[part.id];
        const Colour colour = colour_of(part);
        EXPECT_EQ(found.colour.red, colour.red);
        EXPECT_EQ(found.colour.green, colour.green);
        EXPECT_EQ(found.colour.blue, colour.blue);
        EXPECT_EQ(found.layer, part.layer);
        EXPECT_NEAR(found.volume, volume(part), 1e-6 * volume(part));
    }
}

// Closed form: volume and area of a plate with one hole, and the centre of what is left of it:
// (A c - a h) / (A - a) in the plate's own plane, then into the room.
TEST(Step, StatedMeasuresAreTheClosedForm) {
    const Folder folder;
    const Part panel = small_job()[2];
    write_step({panel}, {"Bad", ""}, folder / "job.stp");
    const ReadBack back(folder / "job.stp");
    ASSERT_EQ(back.parts.size(), 1u);
    const Found& found = back.parts.begin()->second;
    const double whole = 1200.0 * 900;
    const double hole = pi * 17.5 * 17.5;
    EXPECT_NEAR(found.stated_volume, (whole - hole) * 6, 1e-9 * whole * 6);
    const double surface = 2 * (whole - hole) + 2 * (1200.0 + 900) * 6 + pi * 35 * 6;
    EXPECT_NEAR(found.stated_area, surface, 1e-9 * surface);
    const double u = (whole * 600 - hole * 400) / (whole - hole);
    const double v = (whole * 450 - hole * 300) / (whole - hole);
    const RoomPoint centre = panel.place.to_room(u, v, 3);
    EXPECT_NEAR(found.stated_centre.X(), centre.x, 1e-6);
    EXPECT_NEAR(found.stated_centre.Y(), centre.y, 1e-6);
    EXPECT_NEAR(found.stated_centre.Z(), centre.z, 1e-6);
}

// Relations: over random parts every part comes back once, with its volume, and the volumes add up.
TEST(Step, RandomPartsComeBackOnce) {
    const Folder folder;
    const auto parts = random_parts(40);
    write_step(parts, {"random", ""}, folder / "job.stp");
    const ReadBack back(folder / "job.stp");
    ASSERT_EQ(back.parts.size(), parts.size());
    std::map<std::string, const Part*> by_id;
    for (const auto& part : parts) by_id[part.id] = &part;
    double total = 0;
    double wanted = 0;
    std::set<std::string> seen;
    for (const auto& [path, found] : back.parts) {
        SCOPED_TRACE(path);
        ASSERT_TRUE(by_id.contains(found.instance));
        const Part& part = *by_id[found.instance];
        EXPECT_TRUE(seen.insert(part.id).second);
        std::string tree = "random > " + part.trade;
        for (const auto& level : {part.wall, part.fitting}) tree += level.empty() ? "" : " > " + level;
        EXPECT_EQ(path, tree + " > " + part.name);
        EXPECT_NEAR(found.volume, volume(part), 1e-6 * volume(part));
        EXPECT_NEAR(found.stated_volume, volume(part), 1e-9 * volume(part));
        EXPECT_EQ(found.layer, part.layer);
        total += found.volume;
        wanted += volume(part);
    }
    EXPECT_NEAR(total, wanted, 1e-6 * wanted);
}

// Relation: one more part leaves the others as they were.
TEST(Step, OneMorePartChangesNoOther) {
    const Folder folder;
    auto parts = random_parts(8);
    write_step(parts, {"random", ""}, folder / "more.stp");
    parts.pop_back();
    write_step(parts, {"random", ""}, folder / "fewer.stp");
    const ReadBack more(folder / "more.stp");
    const ReadBack fewer(folder / "fewer.stp");
    EXPECT_EQ(more.parts.size(), fewer.parts.size() + 1);
    ASSERT_FALSE(fewer.parts.empty());
    for (const auto& [path, found] : fewer.parts) {
        ASSERT_EQ(more.parts.count(path), 1u) << path;
        EXPECT_DOUBLE_EQ(more.parts.find(path)->second.volume, found.volume);
    }
}

// ISO 10303-21 (published): header, ASCII only, strings in \X2\ notation; ISO 10303-242 schema name; our own promise
// of nothing in the header that changes by itself.
TEST(Step, HeaderAndTextFollowTheStandard) {
    const std::string file = written(small_job(), {"Bad ø", "B"});
    EXPECT_EQ(file.substr(0, 13), "ISO-10303-21;");
    const std::string header = file.substr(0, file.find("DATA;"));
    EXPECT_NE(header.find("AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF"), std::string::npos);
    EXPECT_NE(header.find("'Bad \\X2\\00F8\\X0\\, revision B'"), std::string::npos);
    EXPECT_NE(header.find("'1970-01-01T00:00:00',(''),('')"), std::string::npos);
    EXPECT_NE(file.find("'Brausekopf \\X2\\00F8\\X0\\ 200'"), std::string::npos);
    EXPECT_NE(file.find("'Wanne \\\\ ''flach'' \\X2\\2116\\X0\\7'"), std::string::npos);
    EXPECT_NE(file.find("'\\X2\\96E8\\X0\\ \\X4\\0001F600\\X0\\ nipple'"), std::string::npos);
    const auto odd = std::find_if(file.begin(), file.end(), [](char c) { return (c < ' ' && c != '\n') || c > '~'; });
    EXPECT_EQ(odd, file.end());
    EXPECT_NE(file.find("END-ISO-10303-21;"), std::string::npos);
}

// Read from the text itself, without a kernel: a solid for each part, millimetres, sRGB colours, and the plate's
// corners in the room as its frame places them (closed form).
TEST(Step, TextHoldsSolidsUnitsColoursAndCorners) {
    const std::string file = written(small_job());
    EXPECT_EQ(count(file, "MANIFOLD_SOLID_BREP("), 5u);
    EXPECT_GT(count(file, "SI_UNIT(.MILLI.,.METRE.)"), 0u);
    EXPECT_EQ(count(file, "SI_UNIT($,.METRE.)"), 0u);
    EXPECT_NE(file.find("COLOUR_RGB('',0.,0.6196"), std::string::npos) << "158 / 255, the green of a rose";
    for (const char* corner : {"(0.,90.,300.)", "(1.2E+03,90.,300.)", "(1.2E+03,84.,1.2E+03)", "(0.,84.,1.2E+03)"}) {
        EXPECT_NE(file.find(std::string("CARTESIAN_POINT('',") + corner), std::string::npos) << corner;
    }
}

// ISO 10303-21 (published): each number names one entity and each reference has one.
TEST(Step, EveryReferenceIsThere) {
    const std::string file = written(random_parts(12));
    std::set<long> named;
    std::set<long> used;
    bool inside_string = false;
    for (std::size_t i = 0; i < file.size(); ++i) {
        if (file[i] == '\'') inside_string = !inside_string;
        if (inside_string || file[i] != '#') continue;
        char* end = nullptr;
        const long number = std::strtol(file.c_str() + i + 1, &end, 10);
        const bool definition = std::string_view(end).starts_with(" =");
        if (!definition) {
            used.insert(number);
        } else {
            EXPECT_TRUE(named.insert(number).second) << number;
        }
    }
    EXPECT_GT(used.size(), 1000u);
    EXPECT_TRUE(std::includes(named.begin(), named.end(), used.begin(), used.end()));
}

// Our own promise: the same parts give the same bytes, whatever was written before and by whichever process.
TEST(Step, SameJobGivesSameBytes) {
    const std::string first = written(small_job(), {"Bad ø", "B"});
    const std::string between = written(random_parts(3));
    EXPECT_NE(difference(first, between), "");
    EXPECT_EQ(difference(first, written(small_job(), {"Bad ø", "B"})), "");
    for (int i = 0; i < 3; ++i) EXPECT_EQ(difference(first, written_by_another_process()), "");
    EXPECT_NE(difference(first, written(small_job(), {"Bad ø", "C"})), "");
}

TEST(Step, ManyPartsGiveSameBytes) {
    const auto parts = random_parts(25);
    EXPECT_EQ(difference(written(parts), written(parts)), "");
}

// Two writers at once wait for each other (the kernel's translators do not stand it).
TEST(Step, TwoThreadsGiveWhatOneGives) {
    const auto parts = random_parts(10);
    const std::string alone = written(parts);
    std::vector<std::string> together(4);
    std::vector<std::thread> threads;
    for (auto& text : together) threads.emplace_back([&] { text = written(parts); });
    for (auto& thread : threads) thread.join();
    for (const auto& text : together) EXPECT_EQ(difference(text, alone), "");
}

// The kernel's chatter would spoil a program's output; and others' messages must come through again afterwards.
TEST(Step, WritesNothingOnTheConsole) {
    const int printers = Message::DefaultMessenger()->Printers().Length();
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    written(small_job());
    EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
    EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
    EXPECT_EQ(Message::DefaultMessenger()->Printers().Length(), printers);
}

TEST(Step, UnwritableFolderLeavesTheOldFile) {
    const Folder folder;
    write_whole(folder / "job.stp", "old");
    fs::permissions(folder.path(),
                    fs::perms::owner_read | fs::perms::owner_exec | fs::perms::others_read | fs::perms::others_exec);
    std::string says;
    {
        const AsNobody nobody;
        says = refusal(small_job(), folder / "job.stp");
    }
    EXPECT_NE(says.find((folder / "job.stp").string()), std::string::npos) << says;
    EXPECT_EQ(read_whole(folder / "job.stp"), "old");
    EXPECT_EQ(folder.files(), std::vector<std::string>{"job.stp"});
    fs::permissions(folder.path(), fs::perms::owner_all);
}

TEST(Step, FullDiskLeavesTheOldFile) {
    const Folder folder;
    write_whole(folder / "job.stp", "old");
    std::string says;
    {
        const SmallDisk disk(5000);
        says = refusal(small_job(), folder / "job.stp");
    }
    EXPECT_NE(says.find((folder / "job.stp").string()), std::string::npos) << says;
    EXPECT_EQ(read_whole(folder / "job.stp"), "old");
    EXPECT_EQ(folder.files(), std::vector<std::string>{"job.stp"});
}

TEST(Step, BrokenPartIsNamedAndLeavesTheOldFile) {
    const Folder folder;
    write_whole(folder / "job.stp", "old");
    auto parts = small_job();
    parts[2].holes.emplace_back(RoundedRect::circle({0, 450}, 35));
    EXPECT_NE(refusal(parts, folder / "job.stp").find("back/panel-1"), std::string::npos);
    EXPECT_EQ(read_whole(folder / "job.stp"), "old");
    EXPECT_EQ(folder.files(), std::vector<std::string>{"job.stp"});
    EXPECT_EQ(refusal(small_job(), folder / "job.stp"), "") << "a failure must not spoil the next file";
}

TEST(Step, NoPartsAndEqualIdsAreRefused) {
    const Folder folder;
    EXPECT_NE(refusal({}, folder / "job.stp").find("no parts"), std::string::npos);
    EXPECT_NE(refusal({plate("a", 1, 1, 1), plate("a", 2, 2, 2)}, folder / "job.stp").find("part a"),
              std::string::npos);
    EXPECT_TRUE(folder.files().empty());
}

// Relation: names of all lengths come back, wherever the kernel breaks the line (it does so at 72 characters, also
// inside a character or between the two quotes that stand for one). Names start in ASCII, as Open CASCADE 7.6.3 reads
// a name without any ASCII letter as empty and shows the id.
TEST(Step, NamesOfAllLengthsComeBack) {
    const Folder folder;
    std::vector<Part> parts;
    std::multiset<std::string> wanted;
    for (std::size_t length = 20; length < 180; length += 3) {
        std::string name(1 + length / 6 % 2, 'n');  // breaks fall on both bytes of a character
        while (name.size() < length) name += length % 2 == 0 ? "ø" : "a'";
        Part part = plate("part-" + std::to_string(length), 10, 10, 1);
        part.trade = std::string(1, 't');
        part.name = name;
        parts.push_back(part);
        wanted.insert(std::string("j > t > ").append(name));
    }
    write_step(parts, {"j", ""}, folder / "job.stp");
    std::multiset<std::string> got;
    for (const auto& [path, part] : ReadBack(folder / "job.stp").parts) got.insert(path);
    EXPECT_EQ(got, wanted);
}

// ISO 10303-21, 6.4.3.3 (published): notation of characters beyond ASCII.
TEST(StepText, EncodesOnlyInsideStrings) {
    EXPECT_EQ(with_encoded_strings("#1 = A('ø','');\n"), "#1 = A('\\X2\\00F8\\X0\\','');\n");
    EXPECT_EQ(with_encoded_strings("A('øØ x')"), "A('\\X2\\00F800D8\\X0\\ x')");
    EXPECT_EQ(with_encoded_strings("A('ø😀')"), "A('\\X2\\00F8\\X0\\\\X4\\0001F600\\X0\\')");
    EXPECT_EQ(with_encoded_strings("A('it''s','\\\\')"), "A('it''s','\\\\')");
    EXPECT_EQ(with_encoded_strings("A('\xC3\n\xB8','a'\n'b',\n'')"), "A('\\X2\\00F8\\X0\\','a''b',\n'')");
}

// The Unicode Standard, 3.9 (published): overlong forms, surrogates and lone bytes are not UTF-8.
TEST(StepText, CleansWhatIsNotText) {
    EXPECT_EQ(clean_text("ø 200\tx\n"), "ø 200 x ");
    EXPECT_EQ(clean_text("😀雨"), "😀雨");
    EXPECT_EQ(clean_text("a\xC3z"), "a\xEF\xBF\xBDz");
    EXPECT_EQ(clean_text("\xF8\xB8"), "\xEF\xBF\xBD\xEF\xBF\xBD");
    EXPECT_EQ(clean_text("\xC0\xAF"), "\xEF\xBF\xBD");
    EXPECT_EQ(clean_text("\xED\xA0\x80"), "\xEF\xBF\xBD");
    // Controls C0 and C1 (ECMA-48), separators, what turns the writing (Unicode Standard Annex 9), and no character.
    EXPECT_EQ(clean_text("a\033[31m\x7F\u009B\u0085z"), "a [31m   z");
    EXPECT_EQ(clean_text("a\u2028\u202E\u2066\u2069\uFFFEz"), "a     z");
    EXPECT_EQ(clean_text("a\u200F\u200Dz"), "a\u200F\u200Dz");
    EXPECT_EQ(clean_text(std::string_view("a\0z", 3)), "a z");
}

// Every layer that parts are made with has a colour of its own, so that no two look the same.
TEST(Colours, LayersDiffer) {
    const char* const layers[] = {"frame", "stud",  "noggin", "masonry", "board",   "membrane", "bed",
                                  "panel", "tray",  "body",   "rose",    "spindle", "flange",   "handle",
                                  "screw", "plate", "box",    "sealant", "?"};
    std::set<std::array<int, 3>> seen;
    for (const char* layer : layers) {
        Part part;
        part.layer = layer;
        const Colour c = colour_of(part);
        EXPECT_TRUE(seen.insert({c.red, c.green, c.blue}).second) << layer;
        for (const int value : {c.red, c.green, c.blue}) EXPECT_TRUE(value >= 0 && value <= 255) << layer;
    }
}

}  // namespace standproud
