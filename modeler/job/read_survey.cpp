// The survey of the bare recess: readings as people take them.
#include <fmt/format.h>

#include <algorithm>

#include "job/readers.hpp"

namespace standproud {

namespace {

constexpr Range level{-2000, 6000, "mm"};
constexpr Range along{0, 20000, "mm"};
constexpr Range size{0, 20000, "mm", true};
constexpr Range off{0, 50, "mm"};
constexpr Range degrees{45, 315, "degrees"};

/// A wall may turn out this much wider than the job says, mm, before a spot counts as beside it.
constexpr double slack = 50;

/// Reads the tables of a survey and holds each against the walls of the job.
class SurveyReader {
  public:
    SurveyReader(const std::vector<Wall>& walls, bool closed, Faults& faults)
        : walls_(walls), closed_(closed), faults_(faults) {
        for (const auto& wall : walls) ids_.push_back(wall.id);
    }

    void widths(Table& survey, SurveyReadings& readings) {
        for (auto& table : survey.tables("widths")) {
            WidthReading width;
            width.wall = wall(table);
            width.height = height(table, "height", width.wall);
            width.reading = reading(table, "value", size, {Instrument::tape, Instrument::laser_measure});
            table.finish();
            readings.widths.push_back(width);
        }
    }

    void heights(Table& survey, SurveyReadings& readings) {
        for (auto& table : survey.tables("heights")) {
            HeightReading height;
            height.wall = wall(table);
            height.u = across(table, height.wall);
            height.reading =
                reading(table, "value", {0, 6000, "mm", true}, {Instrument::tape, Instrument::laser_measure});
            table.finish();
            readings.heights.push_back(height);
        }
    }

    void wall_diagonals(Table& survey, SurveyReadings& readings) {
        for (auto& table : survey.tables("wall_diagonals")) {
            WallDiagonalReading diagonal;
            diagonal.wall = wall(table);
            diagonal.left_height = height(table, "left_height", diagonal.wall);
            diagonal.right_height = height(table, "right_height", diagonal.wall);
            diagonal.reading = reading(table, "value", size, {Instrument::tape, Instrument::laser_measure});
            table.finish();
            readings.wall_diagonals.push_back(diagonal);
        }
    }

    void diagonals(Table& survey, SurveyReadings& readings) {
        for (auto& table : survey.tables("diagonals")) {
            PlanDiagonalReading diagonal;
            diagonal.from = corner(table, "from", false);
            diagonal.to = corner(table, "to", false);
            if (point(diagonal.from) && point(diagonal.from) == point(diagonal.to)) {
                table.fault("to", "a diagonal ends in the corner it starts from", "another corner");
            }
            diagonal.height = table.number("height", level);
            diagonal.reading = reading(table, "value", size, {Instrument::tape, Instrument::laser_measure});
            table.finish();
            readings.diagonals.push_back(diagonal);
        }
    }

    void angles(Table& survey, SurveyReadings& readings) {
        for (auto& table : survey.tables("angles")) {
            AngleReading angle;
            angle.corner = corner(table, "corner", true);
            angle.leg = table.maybe_number("leg", {50, 3000, "mm"}).value_or(angle.leg);
            angle.reading = reading(table, "value", degrees, {Instrument::square});
            table.finish();
            readings.angles.push_back(angle);
        }
        for (auto& table : survey.tables("triangles")) {
            TriangleReading triangle;
            triangle.corner = corner(table, "corner", true);
            triangle.along_left = table.number("along_left", size);
            triangle.along_right = table.number("along_right", size);
            triangle.reading = reading(table, "value", size, {Instrument::tape, Instrument::laser_measure});
            const double longest = triangle.along_left + triangle.along_right;
            const double shortest = std::abs(triangle.along_left - triangle.along_right);
            const double value = triangle.reading.value;
            if (value > 0 && longest > 0 && (value >= longest || value <= shortest)) {
                table.fault("value", "no triangle has such sides",
                            fmt::format("above {:g} and below {:g} mm", shortest, longest));
            }
            table.finish();
            readings.triangles.push_back(triangle);
        }
    }

    void offsets(Table& survey, SurveyReadings& readings) {
        for (auto& table : survey.tables("offsets")) {
            OffsetSet set;
            set.source = table.source();
            set.wall = wall(table);
            set.instrument =
                table.word("plane", {"laser", "string"}) == 0 ? Instrument::laser_plane : Instrument::string;
            set.plumb = table.flag("plumb", false);
            set.plus_minus = table.maybe_number("plus_minus", off);
            for (const auto& [spot, source] : table.triples("points", {-20000, 20000, "mm"})) {
                set.points.push_back({spot[0], spot[1], spot[2], source});
                check_spot(set.wall, spot[0], spot[1], source, "survey.offsets.points");
            }
            if (!table.has("points")) {
                table.fault("points", "survey.offsets.points is missing", "[[across, height, offset], ...]");
            } else if (set.points.size() < 2) {
                table.fault("points", "one plane of light or string needs two spots or more",
                            "[[across, height, offset], ...]");
            }
            table.finish();
            readings.offsets.push_back(set);
        }
    }

    void levels(Table& survey, SurveyReadings& readings) {
        for (auto& table : survey.tables("levels")) {
            LevelReading level_held;
            level_held.wall = wall(table);
            level_held.u = across(table, level_held.wall);
            level_held.from = height(table, "from", level_held.wall);
            level_held.to = height(table, "to", level_held.wall);
            level_held.reading = reading(table, "value", {-500, 500, "mm"}, {Instrument::spirit_level});
            if (level_held.to <= level_held.from) {
                table.fault("to", "the upper end of a level is not above its lower end", "more than from");
            }
            table.finish();
            readings.levels.push_back(level_held);
        }
        for (auto& table : survey.tables("straightedges")) {
            StraightedgeReading edge;
            edge.wall = wall(table);
            edge.u = across(table, edge.wall);
            edge.v = height(table, "height", edge.wall);
            edge.length = table.number("length", {50, 6000, "mm"});
            edge.upright = table.word("held", {"level", "upright"}) == 1;
            edge.reading = reading(table, "gap", {0, 500, "mm"}, {Instrument::straightedge});
            table.finish();
            readings.straightedges.push_back(edge);
        }
    }

    void floors(Table& survey, SurveyReadings& readings) {
        for (auto& table : survey.tables("floors")) {
            FloorReading floor;
            floor.wall = wall(table);
            floor.u = across(table, floor.wall);
            floor.reading = reading(table, "value", {-500, 500, "mm"}, {Instrument::laser_plane});
            table.finish();
            readings.floors.push_back(floor);
        }
        for (auto& table : survey.tables("fixings")) {
            ProudFixing fixing;
            fixing.wall = wall(table);
            fixing.u = across(table, fixing.wall);
            fixing.v = height(table, "height", fixing.wall);
            fixing.reading = reading(table, "proud", {-50, 50, "mm"}, {Instrument::straightedge});
            table.finish();
            readings.fixings.push_back(fixing);
        }
    }

  private:
    std::string wall(Table& table) {
        const std::string id = table.text("wall");
        check_reference(id, ids_, table.full("wall").c_str(), table.source_of("wall"), faults_);
        return id;
    }

    [[nodiscard]] const Wall* find(const std::string& id) const {
        const auto found = std::find_if(walls_.begin(), walls_.end(), [&](const Wall& w) { return w.id == id; });
        return found == walls_.end() ? nullptr : &*found;
    }

    double height(Table& table, const char* key, const std::string& id) {
        const double v = table.number(key, level);
        const Wall* on = find(id);
        if (on && table.has(key) && v > on->height + slack) {
            table.fault(key, fmt::format("a reading lies above the top of wall \"{}\"", id),
                        fmt::format("up to {:g} mm", on->height + slack));
        }
        return v;
    }

    double across(Table& table, const std::string& id) {
        const double u = table.number("across", along);
        const Wall* on = find(id);
        if (on && table.has("across") && u > on->width + slack) {
            table.fault("across", fmt::format("a reading lies beside wall \"{}\"", id),
                        fmt::format("up to {:g} mm from its left bare corner", on->width + slack));
        }
        return u;
    }

    void check_spot(const std::string& id, double u, double v, const Source& source, const char* key) {
        const Wall* on = find(id);
        if (!on || (u >= -slack && u <= on->width + slack && v >= level.least && v <= on->height + slack)) return;
        faults_.push_back({source, key, fmt::format("{:g}, {:g}", u, v),
                           fmt::format("{:g} to {:g} mm across, {:g} to {:g} mm high", -slack, on->width + slack,
                                       level.least, on->height + slack),
                           fmt::format("a spot lies outside wall \"{}\"", id)});
    }

    /// The value with its +/-, and what it was taken with: the first instrument when that is left out.
    static Reading reading(Table& table, const char* key, Range range, const std::vector<Instrument>& instruments) {
        Reading found;
        const Length length = table.length(key, range);
        found.value = length.value;
        found.plus_minus = length.tolerance;
        found.source = table.source_of(key);
        std::vector<std::string> words;
        for (const auto instrument : instruments) words.push_back(to_string(instrument));
        found.instrument = instruments.front();
        if (words.size() > 1) found.instrument = instruments[table.maybe_word("with", words).value_or(0)];
        return found;
    }

    /// "left of back" or "right of back"; `between`: two walls must meet there.
    CornerName corner(Table& table, const char* key, bool between) {
        const auto before = faults_.size();
        const std::string text = table.text(key);
        CornerName name;
        if (faults_.size() != before) return name;
        const bool left = text.rfind("left of ", 0) == 0;
        if (!left && text.rfind("right of ", 0) != 0) {
            table.fault(key, fmt::format("{} is not a corner", table.full(key)),
                        "\"left of WALL\" or \"right of WALL\"");
            return name;
        }
        name.side = left ? Side::left : Side::right;
        name.wall = text.substr(left ? 8 : 9);
        check_reference(name.wall, ids_, table.full(key).c_str(), table.source_of(key), faults_);
        const auto at = point(name);
        if (between && at && !closed_ && (*at == 0 || *at == walls_.size())) {
            table.fault(key,
                        fmt::format("wall \"{}\" meets no other wall at its {}", name.wall, left ? "left" : "right"),
                        "a corner of two walls");
        }
        return name;
    }

    /// Which corner it is, counted from the first wall's left end.
    [[nodiscard]] std::optional<std::size_t> point(const CornerName& name) const {
        const Wall* at = find(name.wall);
        if (!at) return std::nullopt;
        const auto index = static_cast<std::size_t>(at - walls_.data()) + (name.side == Side::right ? 1 : 0);
        return closed_ ? index % walls_.size() : index;
    }

    const std::vector<Wall>& walls_;
    bool closed_;
    Faults& faults_;
    std::vector<std::string> ids_;
};

/// The job's own +/- of instruments: keys are their words with _ for spaces.
void read_instruments(Table& table, SurveyReadings& readings) {
    for (const auto instrument :
         {Instrument::tape, Instrument::laser_measure, Instrument::string, Instrument::laser_plane,
          Instrument::spirit_level, Instrument::straightedge, Instrument::square}) {
        std::string key = to_string(instrument);
        std::replace(key.begin(), key.end(), ' ', '_');
        const Range range{0, 50, instrument == Instrument::square ? "degrees" : "mm", true};
        if (const auto value = table.maybe_number(key.c_str(), range)) readings.plus_minus[instrument] = *value;
    }
    table.finish();
}

/// The names are those of rules/flatness.toml, and are held against it by the rules.
FaceStandards read_standards(Table table) {
    FaceStandards standards;
    standards.source = table.source();
    standards.flatness = table.maybe_text("flatness");
    standards.plumb = table.maybe_text("plumb");
    standards.scaling = table.maybe_text("scaling");
    table.finish();
    return standards;
}

bool is_empty(const SurveyReadings& r) {
    return r.widths.empty() && r.heights.empty() && r.wall_diagonals.empty() && r.diagonals.empty() &&
           r.angles.empty() && r.triangles.empty() && r.offsets.empty() && r.levels.empty() && r.straightedges.empty();
}

}  // namespace

SurveyReadings read_survey(Table& table, const std::vector<Wall>& walls, bool closed, Faults& faults) {
    SurveyReadings readings;
    readings.source = table.source();
    readings.assume = static_cast<SurveyReadings::Assume>(table.maybe_word("assume", {"carry", "unknown"}).value_or(0));
    readings.unevenness = table.maybe_number("unevenness", off);
    if (auto own = table.table("plus_minus")) read_instruments(*own, readings);
    SurveyReader reader(walls, closed, faults);
    const auto before = faults.size();
    reader.widths(table, readings);
    reader.heights(table, readings);
    reader.wall_diagonals(table, readings);
    reader.diagonals(table, readings);
    reader.angles(table, readings);
    reader.offsets(table, readings);
    reader.levels(table, readings);
    reader.floors(table, readings);
    if (auto standards = table.table("standards")) readings.standards = read_standards(*standards);
    table.finish();
    if (is_empty(readings) && faults.size() == before) {
        faults.push_back({readings.source, "survey", "", "[[survey.widths]], [[survey.offsets]], ...",
                          "the survey has no readings"});
    }
    return readings;
}

}  // namespace standproud
