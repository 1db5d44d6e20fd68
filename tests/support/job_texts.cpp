#include "support/job_texts.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <vector>

#include "modeler/model.hpp"
#include "support/jobs.hpp"

namespace standproud::testing {

namespace {

/// The generator's own chances: those of the library differ from one to the next.
class Chance {
  public:
    explicit Chance(std::uint32_t seed) : random_(seed) {}
    /// 0 to count - 1.
    int of(int count) { return static_cast<int>(random_() % static_cast<std::uint32_t>(count)); }
    /// One time in `times`.
    bool one_in(int times) { return of(times) == 0; }
    /// In steps of 0.1.
    double between(double low, double high) {
        const int steps = static_cast<int>((high - low) * 10 + 0.5);
        return (low * 10 + of(steps + 1)) / 10;
    }
    /// The ends themselves now and then.
    double within(double low, double high, double least, double most) {
        if (one_in(25)) return least;
        if (one_in(25)) return most;
        return between(low, high);
    }
    template <class Item>
    const Item& from(const std::vector<Item>& items) {
        return items[static_cast<std::size_t>(of(static_cast<int>(items.size())))];
    }

  private:
    std::mt19937 random_;
};

struct WallSize {
    std::string id;
    double width = 0;
    double height = 0;
    bool lined = true;
};

class Writer {
  public:
    explicit Writer(std::uint32_t seed) : chance_(seed), seed_(seed) {}

    std::string job() {
        header();
        layers("");
        const int count = 1 + chance_.of(5);
        for (int i = 0; i < count; ++i) wall(i);
        if (chance_.one_in(2)) tray();
        panels();
        types();
        stock();
        const int fittings = chance_.of(8);
        for (int i = 0; i < fittings; ++i) fitting(i);
        const int pipes = chance_.of(5);
        for (int i = 0; i < pipes; ++i) pipe(i);
        const int screens = chance_.one_in(3) ? 1 + chance_.of(2) : 0;
        for (int i = 0; i < screens; ++i) screen(i);
        if (chance_.one_in(2)) bench();
        if (chance_.one_in(2)) survey();
        if (chance_.one_in(4))
            line("[limits]\nhole.edge = {}\nthread.turns = {}", chance_.between(0, 40), 1 + chance_.of(9));
        return text_;
    }

  private:
    template <class... Args>
    void line(fmt::format_string<Args...> words, Args&&... args) {
        text_ += fmt::format(words, std::forward<Args>(args)...) + "\n";
    }

    /// A length, mostly with its +/-.
    std::string length(double value, double plus_minus) {
        if (chance_.one_in(30)) return fmt::format("{}", value);
        return fmt::format("\"{} +/- {}\"", value, plus_minus);
    }

    /// A key that may be left out.
    void maybe(const char* key, const std::string& value) {
        if (!chance_.one_in(12)) line("{} = {}", key, value);
    }

    void header() {
        line("[job]\nname = \"{} {}\"\ndatum = \"floor\"", chance_.one_in(5) ? "Bad \\\"Süd\\\", 2. OG" : "Job", seed_);
        if (chance_.one_in(3)) line("revision = \"C\"");
        if (!chance_.one_in(4)) line("bath_or_basin = {}", chance_.one_in(2));
        if (!chance_.one_in(6)) line("seat_tolerance = {}", chance_.between(0, 4));
        if (!chance_.one_in(6)) line("measured_tolerance = {}", chance_.between(0, 2));
        if (chance_.one_in(3)) line("judge_on = \"root-sum-square\"");
    }

    void layer(const std::string& in, const char* kind, double thickness, double plus_minus) {
        line("[[{}layers]]\nkind = \"{}\"\nname = \"{} {}\"\nthickness = {}", in, kind, kind, names_++,
             length(thickness, plus_minus));
        if (chance_.one_in(10)) line("colour = \"#b9c8bd\"");
    }

    void layers(const std::string& in) {
        if (!chance_.one_in(8)) layer(in, "board", chance_.within(6, 20, 0, 60), 0.3);
        if (chance_.one_in(3)) layer(in, "membrane", chance_.between(0, 2), 0.2);
        if (!chance_.one_in(15)) layer(in, "bed", chance_.within(1, 5, 0, 40), 0.5);
        layer(in, "panel", chance_.within(5, 8, 0.5, 40), 0.3);
    }

    void frame(const WallSize& size) {
        const int kind = chance_.of(8);
        if (kind == 0) return;
        if (kind == 1) {
            line("[walls.masonry]\nthickness = {}", chance_.within(90, 350, 1, 1000));
            return;
        }
        std::string centres = "22.5";
        for (double u = 450; u < size.width - 60 && u < 6000; u += 450) centres += fmt::format(", {}", u);
        line("[walls.studs]\nwidth = {}\ndepth = {}\nset_back = {}\ncentres = [{}]", chance_.within(38, 50, 1, 300),
             chance_.within(60, 140, 1, 400), chance_.one_in(5) ? chance_.between(0, 20) : 0.0, centres);
        for (int i = chance_.of(4); i > 0; --i) {
            const double left = chance_.between(0, size.width / 2);
            line("[[walls.noggins]]\nleft = {}\nright = {}\nheight = {}\nsize = {}\ndepth = {}\nset_back = {}", left,
                 left + chance_.between(1, size.width / 2), chance_.between(0, size.height), chance_.between(20, 200),
                 chance_.between(20, 90), chance_.one_in(3) ? 20 : 0);
        }
    }

    void openings(const WallSize& size) {
        if (size.width < 900 || size.height < 1500 || !chance_.one_in(3)) return;
        const double left = chance_.between(100, size.width - 700);
        const double right = left + chance_.between(50, std::min(1200.0, size.width - left - 100));
        const bool door = chance_.one_in(3);
        line("[[walls.openings]]\nid = \"o{}\"\nleft = {}\nright = {}\nbottom = {}\ntop = {}", names_++, left, right,
             door ? 0.0 : chance_.between(600, size.height - 500), size.height - chance_.between(100, 400));
        if (chance_.one_in(2)) line("reveal = {}", chance_.within(50, 200, 1, 1000));
        if (chance_.one_in(3)) line("gap = {}", chance_.between(0, 12));
    }

    void wall(int number) {
        WallSize size{fmt::format("w{}", number), chance_.within(700, 2600, 60, 20000),
                      chance_.within(1800, 2700, 600, 6000), !chance_.one_in(12)};
        line("[[walls]]\nid = \"{}\"\nwidth = {}\nheight = {}", size.id, size.width, size.height);
        static const std::vector<double> angles{90, 90, 90, 90, 45, 60, 100.5, 120, 135, 160, 225, 270, 270, 300, 315};
        line("next_angle = {}", chance_.from(angles));
        if (!size.lined) line("lined = false");
        if (chance_.one_in(8)) line("panel_top = {}", chance_.between(size.height / 2, size.height));
        if (chance_.one_in(8)) line("bedding = \"plane\"");
        if (chance_.one_in(8)) line("sealant_colour = \"#d8cfc0\"");
        frame(size);
        if (size.lined && chance_.one_in(8)) layers("walls.");
        openings(size);
        for (int i = chance_.of(3); i > 0 && size.lined; --i) {
            line("[[walls.joins]]\nacross = {}\nfrom = \"{} bare\"", chance_.between(0, size.width),
                 chance_.one_in(2) ? "left" : "right");
            if (chance_.one_in(3)) line("gap = {}", chance_.within(3, 10, 0, 50));
        }
        if (size.lined && chance_.one_in(5))
            line("[[walls.level_joins]]\nheight = {}", chance_.between(1, size.height));
        if (chance_.one_in(5)) line("[walls.gaps]\nleft = {}\njoin = {}", chance_.between(0, 9), chance_.between(0, 9));
        walls_.push_back(size);
    }

    void tray() {
        const WallSize& at = chance_.from(walls_);
        std::string over;
        for (const auto& wall : walls_) over += fmt::format("{}\"{}\"", over.empty() ? "" : ", ", wall.id);
        const double base = chance_.one_in(4) ? -chance_.between(0, 60) : 0;
        line(
            "[tray]\nname = \"tray\"\nwall = \"{}\"\nleft = {}\nwidth = {}\ndepth = {}\nbase = {}\nrim = {}\nwalls = "
            "[{}]",
            at.id, chance_.one_in(2) ? 0.0 : chance_.between(0, at.width / 2), chance_.between(60, 1800),
            chance_.between(60, 1200), base, base + chance_.within(0, 200, 0, 600), over);
    }

    void panels() {
        if (chance_.one_in(6)) return;
        line("[panels]\ngap = {}", chance_.within(3, 6, 0, 50));
        if (chance_.one_in(2)) line("top = {}", chance_.within(1900, 2200, 200, 6000));
        if (chance_.one_in(3)) line("bedding = \"plane\"");
        if (chance_.one_in(3)) line("plumb = true");
        if (chance_.one_in(2)) line("bed_max = {}", chance_.between(3, 20));
        std::vector<std::string> order;
        for (const auto& wall : walls_) order.push_back('"' + wall.id + '"');
        for (std::size_t i = order.size(); i > 1; --i)
            std::swap(order[i - 1], order[static_cast<std::size_t>(chance_.of(static_cast<int>(i)))]);
        if (chance_.one_in(2)) line("order = [{}]", fmt::join(order, ", "));
    }

    void part(const char* role, const char* from, double start, double length) {
        line("[[types.parts]]\nrole = \"{}\"\nfrom = \"{}\"\nstart = {}\nlength = {}", role, from, start, length);
        if (chance_.one_in(2)) {
            line("diameter = {}", chance_.between(10, 90));
        } else {
            line("width = {}\nheight = {}", chance_.between(10, 200), chance_.between(10, 120));
        }
    }

    void type_head(const char* id, const char* family, const char* trade, const std::string& connection,
                   const char* use) {
        line("[[types]]\nid = \"{}\"\nname = \"a {}\"\nfamily = \"{}\"\ntrade = \"{}\"", id, id, family, trade);
        maybe("connection", '"' + connection + '"');
        if (*use) maybe("use", fmt::format("\"{}\"", use));
        if (chance_.one_in(4)) line("price = {}", chance_.between(1, 300));
        ids_.emplace_back(id);
    }

    void shapes(double hole, double passes, double flange) {
        line("[[types.holes]]\ndiameter = {}", hole);
        maybe("passes", fmt::format("{}", passes));
        if (!chance_.one_in(10)) line("[[types.flanges]]\ndiameter = {}", flange);
    }

    void types() {
        type_head("tap", "spindle", "plumber", "spline", "control");
        maybe("spindle_length", length(chance_.between(30, 80), 0.5));
        maybe("proud_min", fmt::format("{}", chance_.between(5, 18)));
        maybe("proud_max", fmt::format("{}", chance_.between(20, 40)));
        line("access = [{{for = \"handle sweep\", from = \"face\", diameter = {}, start = 10, length = 40}}]",
             chance_.between(60, 200));
        shapes(36, 24, chance_.between(40, 80));
        if (!chance_.one_in(4)) part("body", "seat", -40, 40);
        if (!chance_.one_in(4)) part("handle", "face", 8, 50);

        type_head("mixer", "window", "plumber", "cartridge", "control");
        maybe("face_min", fmt::format("{}", chance_.between(5, 20)));
        maybe("face_max", fmt::format("{}", chance_.between(25, 50)));
        shapes(74, 58, chance_.between(100, 180));
        if (!chance_.one_in(4)) part("body", "seat", -54, 54);
        if (!chance_.one_in(4)) part("plate", "face", 0, 6);

        type_head("rose", "thread", "plumber", chance_.one_in(3) ? "R 1/2" : "G 1/2", "water outlet");
        maybe("tail_length", length(chance_.between(20, 60), 0.5));
        maybe("thread_length", length(chance_.between(8, 20), 0.5));
        maybe("socket_depth", fmt::format("{}", chance_.between(10, 20)));
        shapes(32, 21, chance_.between(40, 70));
        if (!chance_.one_in(4)) part("body", "seat", -30, 30);
        if (!chance_.one_in(4)) part("arm", "face", 4, 300);

        type_head("rail", "screw", "installer", "screw-6", "grab rail");
        maybe("screw_length", length(chance_.between(30, 90), 0.5));
        maybe("base_thickness", length(chance_.between(1, 6), 0.2));
        maybe("embedment_min", fmt::format("{}", chance_.between(15, 40)));
        line("holes = [{{at = [-100, 0], diameter = 14, passes = 6}}, {{at = [100, 0], diameter = 14, passes = 6}}]");
        line("flanges = [{{at = [-100, 0], diameter = 60}}, {{at = [100, 0], diameter = 60}}]");
        line(
            "[[types.parts]]\nrole = \"rail\"\nfrom = \"face\"\naxis = \"across\"\nat = [0, 50]\ndiameter = 32\nstart "
            "= -120\nlength = 240");

        type_head("socket", "plate", "electrician", "M3.5", chance_.one_in(2) ? "socket outlet" : "electrical");
        maybe("recess_max", fmt::format("{}", chance_.between(2, 15)));
        maybe("screw_length", length(chance_.between(16, 40), 0.5));
        maybe("base_thickness", length(chance_.between(2, 8), 0.2));
        maybe("socket_depth", fmt::format("{}", chance_.between(8, 16)));
        line("[[types.holes]]\nwidth = 72\nheight = 72\nradius = 4\npasses_width = 70\npasses_height = 70");
        line("[[types.flanges]]\nwidth = 88\nheight = 88");
        if (!chance_.one_in(4)) part("box", "seat", -47, 47);
        if (!chance_.one_in(4)) part("plate", "face", 0, 8);
    }

    void stock() {
        const auto item = [&](const char* id, const char* kind, const char* fits, const char* key, double adds) {
            line("[[stock]]\nid = \"{}\"\nname = \"{}\"\nkind = \"{}\"\nfits = \"{}\"", id, id, kind, fits);
            maybe(key, length(adds, 0.3));
        };
        item("ext-10", "extension", "spline", "adds", 10);
        item("ext-25", "extension", "spline", "adds", 25);
        item("kit-20", "kit", "cartridge", "adds", 20);
        item("nipple-15", "nipple", "G 1/2", "adds", 15);
        maybe("socket_depth", "15");
        item("nipple-r", "nipple", "R 1/2", "adds", 15);
        maybe("socket_depth", "15");
        maybe("thread_length", "\"14 +/- 0.3\"");
        item("screw-80", "screw", "screw-6", "length", 80);
        item("plate-40", "screw", "M3.5", "length", 40);
    }

    /// across and from: inside the wall in any case.
    void across(std::size_t wall) {
        const double width = walls_[wall].width;
        const bool left = wall > 0 && chance_.one_in(2);
        const bool right = wall + 1 < walls_.size() && chance_.one_in(2);
        const double spot = chance_.between(width * 0.2, width * 0.8);
        if (left && right && chance_.one_in(3)) {
            line("across = {:.1f}\nfrom = \"centre\"", spot - width / 2);
        } else if (left) {
            line("across = {}\nfrom = \"left finished\"", spot);
        } else if (right) {
            line("across = {}\nfrom = \"right finished\"", spot);
        } else {
            line("across = {}\nfrom = \"{} bare\"", spot, chance_.one_in(2) ? "left" : "right");
        }
    }

    std::size_t any_wall() { return static_cast<std::size_t>(chance_.of(static_cast<int>(walls_.size()))); }

    void fitting(int number) {
        const std::size_t wall = any_wall();
        const std::string& type = chance_.from(ids_);
        line("[[fittings]]\nid = \"f{}\"\ntype = \"{}\"\nwall = \"{}\"", number, type, walls_[wall].id);
        across(wall);
        line("height = {}", chance_.between(walls_[wall].height * 0.1, walls_[wall].height * 0.9));
        const auto seat = [&] { return length(chance_.within(-40, 15, -200, 60), chance_.between(0, 3)); };
        if (!chance_.one_in(8)) line("seat = {}", seat());
        if (type == "tap" && chance_.one_in(5)) line("with = \"ext-10\"");
        if (chance_.one_in(5)) {
            line("[fittings.as_built]\ndate = 2026-0{}-1{}\nby = \"O. Marrack\"\nseat = {}", 1 + chance_.of(9),
                 chance_.of(10), seat());
            if (chance_.one_in(3))
                line("height = {}", chance_.between(walls_[wall].height * 0.1, walls_[wall].height * 0.9));
        }
        fittings_.push_back(fmt::format("f{}", number));
    }

    void pipe(int number) {
        const WallSize& wall = walls_[any_wall()];
        static const std::vector<std::string> kinds{"cold", "hot", "waste", "cable"};
        const std::string& kind = chance_.from(kinds);
        std::string points;
        const int count = 2 + chance_.of(4);
        double u = chance_.between(0, wall.width);
        double v = chance_.between(0, wall.height);
        double n = -chance_.between(10, 80);
        for (int i = 0; i < count; ++i) {
            points += fmt::format("{}[{:.1f}, {:.1f}, {:.1f}]", i ? ", " : "", u, v, n);
            const int way = chance_.of(7);
            const double by = chance_.between(60, 700) * (chance_.one_in(2) ? 1 : -1);
            (way < 3 ? u : way < 6 ? v : n) += way == 6 ? by / 10 : by;
        }
        line("[[pipes]]\nid = \"p{}\"\nkind = \"{}\"\nwall = \"{}\"\ndiameter = {}\nplus_minus = {}\npoints = [{}]",
             number, kind, wall.id, chance_.within(8, 50, 0.5, 200), chance_.between(0, 5), points);
        if (chance_.one_in(2)) line("bend_radius = {}", chance_.between(0, 30));
        if (chance_.one_in(8)) line("exposed = true");
        if (!fittings_.empty() && chance_.one_in(2)) line("connects = [\"{}\"]", chance_.from(fittings_));
    }

    void screen(int number) {
        const std::size_t wall = any_wall();
        line("[[screens]]\nid = \"s{}\"\nwall = \"{}\"\nwidth = {}\nthickness = {}\nbottom = {}\ntop = {}", number,
             walls_[wall].id, chance_.within(300, 1200, 1, 5000), chance_.within(6, 12, 0.5, 100),
             chance_.between(0, 150), chance_.between(1500, 2200));
        across(wall);
        if (!chance_.one_in(4)) line("profile = {}", chance_.between(10, 60));
        if (chance_.one_in(3)) line("fixings = [300, 1300]");
        if (chance_.one_in(2)) line("swing_left = {}\nswing_right = {}", chance_.of(91), chance_.of(91));
    }

    void bench() {
        line("[[sheets]]\nid = \"large\"\nwidth = 1220\nheight = {}\nturning = {}",
             chance_.within(2440, 3050, 2000, 6100), chance_.one_in(2));
        if (chance_.one_in(2)) line("price = 265");
        if (chance_.one_in(3))
            line("[[sheets]]\nid = \"rest\"\nwidth = 780\nheight = 2200\nturning = true\noffcut = true");
        line("[bench]\nstart = 2026-06-15\nsaw = \"{}\"\nkerf = 3\ntrim = 5\nfixed_at = {}\ncoldest = {}\nhottest = {}",
             chance_.one_in(2) ? "circular" : "table", chance_.between(10, 25), chance_.between(-5, 10),
             chance_.between(25, 60));
        line(
            "fixed_humidity = 60\ndriest = {}\nwettest = {}\nsealant_class = \"{}\"\nsealant_depth = 5\ncartridge = "
            "290\n"
            "waste = 10\nreach = {}",
            chance_.between(20, 60), chance_.between(60, 100), chance_.one_in(2) ? "25" : "12.5",
            chance_.between(25, 60));
        if (chance_.one_in(3))
            line("adhesive_price = 8.4\nsealant_price = 9.1\ncrews_installer = {}", 1 + chance_.of(3));
    }

    /// Readings near what the walls are drawn as, some of them further off.
    double read(double value, double off) { return value + chance_.between(-off, off) + (chance_.one_in(40) ? 30 : 0); }

    void survey() {
        line("[survey]\nassume = \"{}\"", chance_.one_in(4) ? "unknown" : "carry");
        if (chance_.one_in(3)) line("unevenness = {}", chance_.between(0, 5));
        for (const auto& wall : walls_) {
            for (const double at : {0.1, 0.8}) {
                if (chance_.one_in(3)) continue;
                line("[[survey.widths]]\nwall = \"{}\"\nheight = {:.1f}\nvalue = {:.1f}", wall.id, wall.height * at,
                     read(wall.width, std::min(8.0, wall.width / 20)));
            }
            if (chance_.one_in(2)) offsets(wall);
            if (chance_.one_in(4))
                line(
                    "[[survey.straightedges]]\nwall = \"{}\"\nacross = {:.1f}\nheight = {:.1f}\nlength = {}\nheld = "
                    "\"level\"\n"
                    "gap = {}",
                    wall.id, wall.width / 2, wall.height / 2, std::min(1000.0, wall.width / 2), chance_.between(0, 8));
            if (chance_.one_in(4))
                line("[[survey.levels]]\nwall = \"{}\"\nacross = {:.1f}\nfrom = 200\nto = {:.1f}\nvalue = {}", wall.id,
                     wall.width / 2, wall.height - 100, chance_.between(-8, 8));
            if (chance_.one_in(4))
                line("[[survey.floors]]\nwall = \"{}\"\nacross = {:.1f}\nvalue = {}", wall.id, wall.width / 3,
                     chance_.between(-10, 10));
            if (chance_.one_in(5))
                line("[[survey.fixings]]\nwall = \"{}\"\nacross = {:.1f}\nheight = {:.1f}\nproud = \"{} +/- 0.5\"",
                     wall.id, wall.width / 2, wall.height / 3, chance_.between(-1, 2));
        }
    }

    void offsets(const WallSize& wall) {
        std::string points;
        const double lean = chance_.between(-6, 6);
        for (const double v : {0.1, 0.5, 0.9}) {
            for (const double u : {0.1, 0.5, 0.9}) {
                points += fmt::format("{}[{:.1f}, {:.1f}, {:.1f}]", points.empty() ? "" : ", ", wall.width * u,
                                      wall.height * v, 60 + lean * v + chance_.between(-2, 2));
            }
        }
        line("[[survey.offsets]]\nwall = \"{}\"\nplane = \"laser\"\nplumb = {}\npoints = [{}]", wall.id,
             !chance_.one_in(4), points);
    }

    Chance chance_;
    std::uint32_t seed_;
    std::string text_;
    std::vector<WallSize> walls_;
    std::vector<std::string> ids_;
    std::vector<std::string> fittings_;
    int names_ = 1;
};

}  // namespace

std::string random_job_text(std::uint32_t seed) { return Writer(seed).job(); }

std::string sound_job_text(std::uint32_t seed) {
    std::mt19937 next(seed);
    std::uint32_t now = seed;
    for (int tries = 0; tries < 50; ++tries, now = static_cast<std::uint32_t>(next())) {
        std::string text = random_job_text(now);
        Faults faults;
        const Job job = job_of(text, faults);
        if (!faults.empty()) continue;
        (void)build_model(job, faults);
        if (faults.empty()) return text;
    }
    ADD_FAILURE() << "no sound job for seed " << seed;
    return {};
}

}  // namespace standproud::testing
