#include "support/true_recess.hpp"

#include <algorithm>
#include <cmath>

namespace standproud::testing {

namespace {

// Standard errors of the readings, half the +/- that modeler/survey/instruments.toml ships.
constexpr double tape = 1;
constexpr double laser_plane = 0.75;
constexpr double spirit_level = 0.75;
constexpr double square = 0.15;              // degrees
constexpr double plumb_plane = 0.15 / 1000;  // mm per mm

Vec2 out_of(Vec2 along) { return {along.y, -along.x}; }

/// Where two walls' lines meet at a height above mid height.
Vec2 meet(const TrueWall& a, const TrueWall& b, double up) {
    const Vec2 na = out_of(a.along);
    const Vec2 nb = out_of(b.along);
    const double ca = dot(na, a.from) + a.lean * up;
    const double cb = dot(nb, b.from) + b.lean * up;
    const double across = na.x * nb.y - na.y * nb.x;
    return {(ca * nb.y - cb * na.y) / across, (na.x * cb - nb.x * ca) / across};
}

Vec2 turned(Vec2 along, double angle_inside) {
    const double by = -(180 - angle_inside) * pi / 180;
    return {along.x * std::cos(by) - along.y * std::sin(by), along.x * std::sin(by) + along.y * std::cos(by)};
}

class Reader {
  public:
    Reader(const Job& job, const TrueRecess& truth, Noise noise, std::mt19937& random)
        : job_(job), truth_(truth), noise_(noise), random_(random) {}

    [[nodiscard]] double off(double sigma) { return sigma * unit_(random_); }
    [[nodiscard]] double spot() { return off(noise_.uneven); }

    Reading tape_reading(double value) {
        Reading reading;
        reading.value = value + off(noise_.reading * tape) + spot() - spot();
        return reading;
    }

    void widths(SurveyReadings& survey, std::size_t w, double v) {
        survey.widths.push_back({job_.walls[w].id, v, tape_reading(truth_.width(w, v))});
    }

    void wall(SurveyReadings& survey, std::size_t w) {
        const std::string& id = job_.walls[w].id;
        const TrueWall& wall = truth_.walls[w];
        const double high = 2 * truth_.mid_height;
        for (const double part : {0.1, 0.5, 0.9}) widths(survey, w, part * high);
        for (const double part : {0.1, 0.5, 0.9}) {
            const double u = part * job_.walls[w].width;
            Reading reading;
            reading.value = wall.top + wall.fall * (u - job_.walls[w].width / 2) + off(noise_.reading * tape) + spot();
            survey.heights.push_back({id, u, reading});
        }
        const double low = 0.1 * high;
        const double top = 0.9 * high;
        for (const bool rising : {true, false}) {
            const double l = rising ? low : top;
            const double r = rising ? top : low;
            const double level = norm(truth_.right(w, r) - truth_.left(w, l));
            survey.wall_diagonals.push_back({id, l, r, tape_reading(std::hypot(level, r - l))});
        }
        offsets(survey, w);
        Reading level;
        level.instrument = Instrument::spirit_level;
        level.value = wall.lean * 1800 + off(noise_.reading * spirit_level) + spot() - spot();
        survey.levels.push_back({id, job_.walls[w].width / 3, 300, 2100, level});
    }

    void offsets(SurveyReadings& survey, std::size_t w) {
        OffsetSet set;
        set.wall = job_.walls[w].id;
        set.plumb = true;
        const double away = 60;
        const double turn = 0.01;
        const double tilt = off(noise_.reading * plumb_plane);
        for (const double across : {0.1, 0.5, 0.9}) {
            for (const double high : {0.1, 0.5, 0.9}) {
                const double u = across * job_.walls[w].width;
                const double v = high * 2 * truth_.mid_height;
                const double up = v - truth_.mid_height;
                const double light = away + turn * (u - job_.walls[w].width / 2) + tilt * up;
                const double surface = truth_.walls[w].lean * up + spot();
                surfaces.push_back(surface);
                set.points.push_back({u, v, light - surface + off(noise_.reading * laser_plane), {}});
            }
        }
        survey.offsets.push_back(set);
    }

    void corner(SurveyReadings& survey, std::size_t w) {
        const double angle = truth_.angles[w];
        AngleReading at;
        at.corner = {job_.walls[w].id, Side::right};
        at.reading.instrument = Instrument::square;
        at.reading.value = angle + off(noise_.reading * square) + (spot() - spot()) / at.leg * 180 / pi;
        survey.angles.push_back(at);
        const double across = std::sqrt(600 * 600 + 800 * 800 - 2 * 600 * 800 * std::cos(angle * pi / 180));
        survey.triangles.push_back({at.corner, 600, 800, tape_reading(across)});
    }

    /// Diagonals in plan between every two corners that no wall joins, at two heights.
    void diagonals(SurveyReadings& survey) {
        const std::size_t walls = job_.walls.size();
        const std::size_t points = truth_.closed ? walls : walls + 1;
        const auto place = [&](std::size_t k, double v) {
            return k < walls ? truth_.left(k, v) : truth_.right(k - 1, v);
        };
        const auto name = [&](std::size_t k) {
            return k < walls ? CornerName{job_.walls[k].id, Side::left} : CornerName{job_.walls[k - 1].id, Side::right};
        };
        for (const double v : {0.15 * 2 * truth_.mid_height, 0.85 * 2 * truth_.mid_height}) {
            for (std::size_t a = 0; a < points; ++a) {
                for (std::size_t b = a + 2; b < points; ++b) {
                    if (truth_.closed && a == 0 && b + 1 == points) continue;
                    survey.diagonals.push_back({name(a), name(b), v, tape_reading(norm(place(b, v) - place(a, v)))});
                }
            }
        }
    }

    std::vector<double> surfaces;  ///< true n of each spot of the offsets

  private:
    const Job& job_;
    const TrueRecess& truth_;
    Noise noise_;
    std::mt19937& random_;
    std::normal_distribution<double> unit_;
};

}  // namespace

Vec2 TrueRecess::left(std::size_t wall, double v) const {
    const double up = v - mid_height;
    if (wall > 0) return meet(walls[wall - 1], walls[wall], up);
    if (closed) return meet(walls.back(), walls[0], up);
    return walls[0].from + up * (walls[0].lean * out_of(walls[0].along) + end_slope[0] * walls[0].along);
}

Vec2 TrueRecess::right(std::size_t wall, double v) const {
    const double up = v - mid_height;
    if (wall + 1 < walls.size()) return meet(walls[wall], walls[wall + 1], up);
    if (closed) return meet(walls[wall], walls[0], up);
    const TrueWall& last = walls[wall];
    return last.from + last.width * last.along + up * (last.lean * out_of(last.along) + end_slope[1] * last.along);
}

double TrueRecess::width(std::size_t wall, double v) const { return norm(right(wall, v) - left(wall, v)); }

TrueRecess true_recess(const Job& job, std::mt19937& random, double width, double angle, double lean) {
    std::normal_distribution<double> unit;
    TrueRecess truth;
    truth.closed = job.closed;
    truth.mid_height = job.walls.front().height;
    for (const auto& wall : job.walls) truth.mid_height = std::min(truth.mid_height, wall.height);
    truth.mid_height /= 2;
    Vec2 at;
    Vec2 along{0, 1};
    for (const auto& wall : job.walls) {
        TrueWall real;
        real.from = at;
        real.along = along;
        real.width = wall.width + width * unit(random);
        real.lean = lean * unit(random) / 1000;
        real.top = wall.height + width * unit(random);
        real.fall = lean * unit(random) / 1000;
        truth.walls.push_back(real);
        truth.angles.push_back(wall.next_angle + angle * unit(random));
        at = at + real.width * along;
        along = turned(along, truth.angles.back());
    }
    for (double& slope : truth.end_slope) slope = lean * unit(random) / 1000;
    if (truth.closed) {
        // The last wall runs back to the start; its own angles follow.
        TrueWall& last = truth.walls.back();
        const Vec2 back = Vec2{} - last.from;
        last.width = norm(back);
        last.along = (1 / last.width) * back;
        const auto inside = [&](std::size_t a, std::size_t b) {
            const Vec2 in = truth.walls[a].along;
            const Vec2 out = truth.walls[b].along;
            return 180 + std::atan2(cross(in, out), dot(in, out)) * 180 / pi;
        };
        truth.angles[job.walls.size() - 2] = inside(job.walls.size() - 2, job.walls.size() - 1);
        truth.angles.back() = inside(job.walls.size() - 1, 0);
    }
    return truth;
}

SurveyReadings full_survey(const Job& job, const TrueRecess& truth, Noise noise, std::mt19937& random,
                           std::vector<double>* surfaces) {
    Reader reader(job, truth, noise, random);
    SurveyReadings survey;
    for (std::size_t w = 0; w < job.walls.size(); ++w) reader.wall(survey, w);
    for (std::size_t w = 0; w + (job.closed ? 0 : 1) < job.walls.size(); ++w) reader.corner(survey, w);
    reader.diagonals(survey);
    if (surfaces) *surfaces = reader.surfaces;
    return survey;
}

SurveyReadings widths_only(const Job& job, const TrueRecess& truth, double height, Noise noise, std::mt19937& random) {
    Reader reader(job, truth, noise, random);
    SurveyReadings survey;
    for (std::size_t w = 0; w < job.walls.size(); ++w) reader.widths(survey, w, height);
    return survey;
}

std::vector<double*> figures_of(SurveyReadings& readings) {
    std::vector<double*> figures;
    const auto each = [&](auto& list) {
        for (auto& item : list) figures.push_back(&item.reading.value);
    };
    each(readings.widths);
    each(readings.heights);
    each(readings.wall_diagonals);
    each(readings.diagonals);
    each(readings.angles);
    each(readings.triangles);
    for (auto& set : readings.offsets) {
        for (auto& point : set.points) figures.push_back(&point.value);
    }
    each(readings.levels);
    return figures;
}

}  // namespace standproud::testing
