// Findings about a wall itself: survey.reading, wall.plumb, wall.flat, bed.thickness, bed.fixing.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "judge.hpp"
#include "rules/flatness.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

std::string tenth(double value) { return mm(std::round(value * 10) / 10); }

/// "400 / 1850": mm right of the left bare corner there / above the datum.
std::string spot_words(const Model& model, std::size_t wall, double u, double v) {
    const double right = u - bare_corner(model.job, model.room, wall, Side::left, v);
    return fmt::format("{:.0f} / {:.0f}", std::round(right) + 0.0, std::round(v) + 0.0);
}

constexpr const char* spot_key = "(mm right of the left bare corner / above the datum)";

Finding wall_finding(const Model& model, std::size_t wall, const std::string& rule) {
    Finding finding;
    finding.rule = rule;
    finding.wall = model.job.walls[wall].id;
    finding.subject = "wall " + finding.wall;
    finding.trade = Trade::builder;
    return finding;
}

/// Numbers and verdict of a quantity that may be at most `most`, and the sentence that says so.
void judge_most(Finding& finding, const Sum& sum, std::optional<double> most, const std::string& missing,
                const std::string& where, bool statistical) {
    if (!most) finding.missing.push_back(missing);
    judge(finding, sum, {std::nullopt, most}, statistical);
    if (finding.verdict == Verdict::unknown) {
        std::string names;
        for (const auto& name : finding.missing) names += (names.empty() ? "" : "; ") + name;
        finding.says = fmt::format("{}{} cannot be judged: missing {}", finding.quantity, where, names);
        if (finding.nominal) finding.says += fmt::format("; it is {} mm", tenth(*finding.nominal));
        finding.action = fmt::format("Find and fill in: {}.", names);
        return;
    }
    finding.says = fmt::format("{}{}: {} mm ({} to {}), at most {} mm", finding.quantity, where,
                               tenth(*finding.nominal), tenth(*finding.low), tenth(*finding.high), mm(*most));
    if (finding.verdict == Verdict::clear) return;
    const bool tight = finding.verdict == Verdict::tight;
    finding.says += fmt::format("; too much by {} mm{}", tenth((tight ? *finding.high : *finding.nominal) - *most),
                                tight ? " at the end of the band" : "");
}

std::vector<WallPoint> spots_of(const WallSurvey& wall) {
    std::vector<WallPoint> spots;
    for (const auto& p : wall.points) spots.push_back({p.u, p.v, p.n});
    return spots;
}

std::string standard_source(const FlatnessStandard& standard, Scaling scaling) {
    return fmt::format("{} ({}), {}; scaled to other lengths: {}; your code and the panel maker's sheet come first",
                       standard.name, standard.says, standard.source, word_of(scaling));
}

/// +/- of a difference of two figures.
double of_difference(double a, double b) { return 2 * std::hypot(a, b); }

/// The published tolerances are advice: what a wall does to bed and fittings is judged for itself.
void as_advice(Finding& finding) {
    if (finding.verdict == Verdict::fails) finding.verdict = Verdict::tight;
}

std::optional<Finding> plumb_finding(const Model& model, std::size_t w, const FaceRule& rule, const Limits& limits) {
    const WallSurvey& wall = model.survey->walls[w];
    Finding finding = wall_finding(model, w, "wall.plumb");
    finding.quantity = "out of plumb";
    finding.source = standard_source(*rule.plumb, rule.scaling);
    const auto judged = judge_plumb(spots_of(wall), *rule.plumb, rule.scaling, limits.at("wall.line").value,
                                    limits.at("wall.rise").value);
    Sum sum;
    if (judged) {
        const SurfacePoint& low = wall.points[judged->pair.lower];
        const SurfacePoint& high = wall.points[judged->pair.upper];
        sum.add("between the two spots", judged->pair.offset, of_difference(low.standard_error, high.standard_error),
                high.source);
        const auto where =
            fmt::format(", leaning {}, over {:.0f} mm up from {} {}", judged->pair.inwards ? "in" : "out",
                        judged->pair.rise, spot_words(model, w, low.u, low.v), spot_key);
        judge_most(finding, sum, judged->allowed, "", where, model.job.statistical);
    } else {
        if (!wall.lean.rests_on.empty()) return std::nullopt;  // nobody has looked
        const double rise = std::min(model.job.walls[w].height, rule.plumb->lengths.back());
        const auto allowed = allowed_gap(*rule.plumb, rise, rule.scaling);
        sum.add("lean of the wall over its height", std::abs(wall.lean.value) * rise / 1000,
                2 * wall.lean.standard_error * rise / 1000, model.job.survey->source);
        judge_most(finding, sum, allowed, "", fmt::format(" over {:.0f} mm", rise), model.job.statistical);
    }
    as_advice(finding);
    if (finding.verdict == Verdict::tight) {
        finding.action =
            "Bring the wall into plumb before it is lined, or bed the panels in a plumb plane over packing.";
    }
    return finding;
}

struct WorstGap {
    double gap = 0;
    double allowed = 0;
    double length = 0;
    double tolerance = 0;
    double u = 0;
    double v = 0;
    Source source;
};

void keep_worse(std::optional<WorstGap>& worst, const WorstGap& gap) {
    if (!worst || gap.gap - gap.allowed > worst->gap - worst->allowed) worst = gap;
}

/// A gap is one spot against the line between two others.
double gap_error(const WallSurvey& wall, const FaceLine& line) {
    double worst = 0;
    for (const auto spot : line.spots) worst = std::max(worst, wall.points[spot].standard_error);
    return 2 * worst * std::sqrt(1.5);
}

/// `on_line`: spots nearer than this to one line count as on it.
std::optional<WorstGap> worst_gap(const WallSurvey& wall, const FaceRule& rule, double longest, double on_line) {
    std::optional<WorstGap> worst;
    for (const auto& line : lines_across(spots_of(wall), on_line)) {
        const auto judged = judge_flatness(line.readings, *rule.flatness, rule.scaling, longest);
        if (!judged) continue;
        const Vec2 at = Vec2{line.start.u, line.start.v} + judged->laid.at * line.direction;
        keep_worse(worst, {judged->laid.gap, judged->allowed, judged->length, gap_error(wall, line), at.x, at.y,
                           wall.points[line.spots.front()].source});
    }
    for (const auto& hollow : wall.hollows) {
        const auto allowed = allowed_gap(*rule.flatness, hollow.length, rule.scaling);
        if (!allowed) continue;
        keep_worse(worst, {hollow.gap.value, *allowed, hollow.length, 2 * hollow.gap.standard_error, hollow.u, hollow.v,
                           hollow.source});
    }
    return worst;
}

std::optional<Finding> flat_finding(const Model& model, std::size_t w, const FaceRule& rule, const Limits& limits) {
    const Wall& wall = model.job.walls[w];
    const auto worst =
        worst_gap(model.survey->walls[w], rule, std::hypot(wall.width, wall.height), limits.at("wall.line").value);
    if (!worst) return std::nullopt;
    Finding finding = wall_finding(model, w, "wall.flat");
    finding.quantity = "hollow under a straightedge";
    finding.source = standard_source(*rule.flatness, rule.scaling);
    finding.spot = Vec2{worst->u, worst->v};
    Sum sum;
    sum.add("gap", worst->gap, worst->tolerance, worst->source);
    judge_most(finding, sum, worst->allowed, "",
               fmt::format(" of {:.0f} mm at {} {}", worst->length, spot_words(model, w, worst->u, worst->v), spot_key),
               model.job.statistical);
    as_advice(finding);
    if (finding.verdict == Verdict::tight) {
        finding.action = fmt::format("Fill the hollow at {} by up to {} mm, or plane off the high spots beside it.",
                                     spot_words(model, w, worst->u, worst->v), tenth(worst->gap));
    }
    return finding;
}

const Layer* bed_layer(const Wall& wall) {
    const Layer* bed = nullptr;
    for (const auto& layer : wall.layers) {
        if (layer.kind == LayerKind::bed) bed = &layer;
    }
    return bed;
}

bool panelled(const Wall& wall) {
    return std::any_of(wall.layers.begin(), wall.layers.end(),
                       [](const auto& l) { return l.kind == LayerKind::panel; });
}

double substrate_of(const Wall& wall) {
    double sum = 0;
    for (const auto& layer : wall.layers) sum += layer.kind < LayerKind::bed ? layer.thickness.value : 0;
    return sum;
}

/// Where to take how much off, so that the bed keeps within its maximum; or where to fill.
std::string planing_words(const Model& model, std::size_t w, const Bedding& bedding, double bed_max) {
    const Wall& wall = model.job.walls[w];
    std::string fill;
    for (const auto& over : beds_over(bedding, bed_max)) {
        const WallPoint& spot = bedding.spots[over.spot].spot;
        fill += fmt::format("{}{} mm at {}", fill.empty() ? "" : ", ", tenth(over.over),
                            spot_words(model, w, spot.u, spot.v));
    }
    std::string text = fmt::format("Level the wall where the bed is over its maximum: fill {} {}", fill, spot_key);
    std::vector<WallPoint> spots;
    for (const auto& spot : bedding.spots) spots.push_back(spot.spot);
    BeddingRule rule;
    rule.substrate = substrate_of(wall);
    rule.bed_min = bed_layer(wall)->thickness.value;
    rule.bed_max = std::max(bed_max, rule.bed_min);
    rule.plumb = model.job.panels.plumb;
    rule.assume = true;
    const Polygon outline{{{0, panel_bottom(model.job, w)},
                           {wall.width, panel_bottom(model.job, w)},
                           {wall.width, panel_top(model.job, model.room, w, wall.width / 2)},
                           {0, panel_top(model.job, model.room, w, wall.width / 2)}}};
    const auto answer = least_planing(spots, outline, rule);
    if (!answer.planing || answer.planing->planed.empty()) return text + ".";
    std::string planed;
    for (const auto& spot : answer.planing->planed) {
        const WallPoint& at = bedding.spots[spot.spot].spot;
        planed += fmt::format("{}{} mm at {}", planed.empty() ? "" : ", ", tenth(spot.depth),
                              spot_words(model, w, at.u, at.v));
    }
    return text + fmt::format("; or plane off the high spots: {}.", planed);
}

Finding plane_bed_finding(const Model& model, std::size_t w) {
    const Wall& wall = model.job.walls[w];
    const Face& face = model.room.faces[w];
    Finding finding = wall_finding(model, w, "bed.thickness");
    finding.quantity = "bed behind the panels";
    finding.source = "panels.bed_max of the job, from the adhesive maker's sheet";
    if (!face.bedding) {
        finding.says = fmt::format("the panels of wall {} have no plane to lie in: {}", wall.id, face.not_bedded);
        finding.action = "Correct the readings of this wall, or let its bed follow the face.";
        finding.missing = {"a plane over this face"};
        return finding;
    }
    const Bedding& bedding = *face.bedding;
    const WallPoint& at = bedding.spots[bedding.thickest].spot;
    finding.spot = Vec2{at.u, at.v};
    Sum sum;
    for (const auto& layer : build_up_at(model.job, model.room, w, at.u, at.v)) {
        if (layer.kind == LayerKind::bed && layer.name != "packing") {
            sum.add(layer.name, layer.thickness, 1, layer.source);
        }
    }
    const double error = face.bedded_on[bedding.thickest].standard_error;
    double rests = 0;
    for (const auto spot : bedding.rests_on) rests = std::max(rests, face.bedded_on[spot].standard_error);
    if (sum.terms.empty()) sum.add("bed", bed_layer(wall)->thickness, 1, bed_layer(wall)->source);
    sum.add("packing", bedding.greatest_packing, 2 * std::hypot(error, rests),
            model.job.survey ? model.job.survey->source : wall.source);
    judge_most(finding, sum, model.job.panels.bed_max, fmt::format("panels.bed_max ({})", to_string(wall.source)),
               fmt::format(" at its thickest, at {} {}", spot_words(model, w, at.u, at.v), spot_key),
               model.job.statistical);
    if (finding.verdict == Verdict::fails) finding.action = planing_words(model, w, bedding, *model.job.panels.bed_max);
    if (finding.verdict == Verdict::tight) {
        finding.action =
            fmt::format("Read the wall again at {} before ordering adhesive.", spot_words(model, w, at.u, at.v));
    }
    return finding;
}

/// A rigid panel that follows a face still bridges its hollows.
std::optional<Finding> follow_bed_finding(const Model& model, std::size_t w, const Limits& limits) {
    const Wall& wall = model.job.walls[w];
    FaceRule any;
    static const FlatnessStandard none{
        "", FlatnessStandard::Measure::flatness, FlatnessStandard::Laid::resting, {20000}, {0}, "", ""};
    any.flatness = &none;
    any.scaling = Scaling::never_below;
    const auto worst =
        worst_gap(model.survey->walls[w], any, std::hypot(wall.width, wall.height), limits.at("wall.line").value);
    if (!worst) return std::nullopt;
    Finding finding = wall_finding(model, w, "bed.thickness");
    finding.quantity = "bed behind the panels";
    finding.source = "panels.bed_max of the job, from the adhesive maker's sheet";
    finding.spot = Vec2{worst->u, worst->v};
    Sum sum;
    sum.add(bed_layer(wall)->name, bed_layer(wall)->thickness, 1, bed_layer(wall)->source);
    sum.add("hollow that the panel bridges", worst->gap, worst->tolerance, worst->source);
    judge_most(finding, sum, model.job.panels.bed_max, fmt::format("panels.bed_max ({})", to_string(wall.source)),
               fmt::format(" at {} {}", spot_words(model, w, worst->u, worst->v), spot_key), model.job.statistical);
    if (finding.verdict == Verdict::fails || finding.verdict == Verdict::tight) {
        finding.action = fmt::format("Pack or fill the hollow at {} by {} mm, or bed the panels in one plane.",
                                     spot_words(model, w, worst->u, worst->v),
                                     tenth(std::max(0.0, *finding.high - *finding.need_high)));
    }
    return finding;
}

std::optional<Finding> fixing_finding(const Model& model, std::size_t w, const Limits& limits) {
    const ProudFixing* worst = nullptr;
    std::string all;
    const Limit& limit = limits.at("fixing.proud");
    for (const auto& fixing : model.job.survey->fixings) {
        if (fixing.wall != model.job.walls[w].id) continue;
        if (!worst || fixing.reading.value > worst->reading.value) worst = &fixing;
        if (fixing.reading.value > limit.value)
            all += (all.empty() ? "" : ", ") + spot_words(model, w, fixing.u, fixing.v);
    }
    if (!worst) return std::nullopt;
    Finding finding = wall_finding(model, w, "bed.fixing");
    finding.quantity = "fixing stands out of the face";
    finding.source = limit_source(limit);
    finding.spot = Vec2{worst->u, worst->v};
    Sum sum;
    sum.add("head of the fixing", worst->reading.value, plus_minus_of(*model.job.survey, worst->reading),
            worst->reading.source);
    judge_most(finding, sum, limit.value, "",
               fmt::format(" at {} {}", spot_words(model, w, worst->u, worst->v), spot_key), model.job.statistical);
    if (finding.verdict == Verdict::fails) {
        finding.action = fmt::format("Drive home or take out the fixings at {}: a panel would rock on them.", all);
    } else if (finding.verdict == Verdict::tight) {
        finding.action =
            fmt::format("Lay a straightedge over the fixing at {} again.", spot_words(model, w, worst->u, worst->v));
    }
    return finding;
}

}  // namespace

std::vector<Finding> check_survey(const Model& model) {
    std::vector<Finding> findings;
    if (!model.survey) return findings;
    Finding finding;
    finding.rule = "survey.reading";
    finding.subject = "survey";
    finding.trade = Trade::builder;
    finding.quantity = "readings";
    finding.source = "standardised residual above 3.29, one good reading in 1000 (Baarda 1968, from memory)";
    if (!model.survey->converged) {
        finding.says = "the readings do not settle into one recess, so the walls are taken as drawn";
        finding.action = "Look for a reading on the wrong wall, or in other units.";
        finding.missing = {"readings that agree"};
        return {finding};
    }
    const bool unknown = model.survey->assume == SurveyReadings::Assume::unknown;
    for (const auto& assumption : model.survey->assumptions) {
        if (!unknown) break;
        Finding open = finding;
        open.rule = "survey.assumed";
        open.source = "survey.assume = \"unknown\", " + to_string(model.job.survey->source);
        open.quantity = assumption.says;
        std::string on;
        for (const auto& result : assumption.results) on += (on.empty() ? "" : ", ") + result;
        open.says = fmt::format("nothing tells whether {}; on it rest: {}", assumption.says, on);
        open.action = "Measure it, or let the job carry the assumption.";
        open.missing = {assumption.says};
        findings.push_back(open);
    }
    for (const auto& suspect : model.survey->suspects) {
        const ReadingResult& reading = model.survey->readings[suspect.reading];
        finding.verdict = Verdict::fails;
        finding.quantity = reading.name + " disagrees";
        finding.unit = reading.unit;
        finding.nominal = suspect.misses_by;
        finding.says = suspect.says;
        finding.action = fmt::format(
            "Measure it again and correct line {}. Until then it bends every figure that "
            "rests on the survey; their bands are widened for it.",
            reading.source.line);
        finding.terms = {{reading.name, suspect.misses_by, 2 * reading.standard_error, reading.source}};
        findings.push_back(finding);
    }
    return findings;
}

std::vector<Finding> check_face(const Model& model, std::size_t wall, const Limits& limits) {
    std::vector<Finding> findings;
    const Wall& w = model.job.walls[wall];
    const bool beds = panelled(w) && bed_layer(w);
    const bool in_plane = w.bedding.value_or(model.job.panels.bedding) == BedKind::plane;
    if (model.survey && model.survey->converged) {
        Faults none;  // the names were held against the data when the job was opened
        const FaceRule rule = face_rule_for(model.job, none);
        if (auto plumb = plumb_finding(model, wall, rule, limits)) findings.push_back(std::move(*plumb));
        if (auto flat = flat_finding(model, wall, rule, limits)) findings.push_back(std::move(*flat));
        if (beds && !in_plane) {
            if (auto bed = follow_bed_finding(model, wall, limits)) findings.push_back(std::move(*bed));
        }
        if (beds && in_plane) findings.push_back(plane_bed_finding(model, wall));
        if (auto fixing = fixing_finding(model, wall, limits)) findings.push_back(std::move(*fixing));
    }
    return findings;
}

}  // namespace standproud::rules
