#include "rules/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace standproud::rules {

std::string mm(double value) {
    if (std::abs(value) < 1e-9) return "0";
    std::string text = std::abs(value) < 0.005 ? fmt::format("{:.1g}", value) : fmt::format("{:.2f}", value);
    if (text.find('.') != std::string::npos && text.find('e') == std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') text.pop_back();
    }
    return text;
}

std::string counted(std::size_t number, const std::string& one, const std::string& many) {
    return fmt::format("{} {}", number, number == 1 ? one : many.empty() ? one + "s" : many);
}

double tenth_up(double width) { return std::ceil(width * 10 - 1e-6) / 10; }

std::string depth(double n) {
    if (std::abs(n) < 1e-9) return "level with the bare face";
    return fmt::format("{} mm {} the bare face", mm(std::abs(n)), n < 0 ? "behind" : "in front of");
}

std::optional<std::pair<double, double>> seat_for_all(const std::vector<Finding>& findings,
                                                      const std::string& fitting) {
    std::optional<std::pair<double, double>> all;
    for (const auto& finding : findings) {
        if (finding.subject != fitting || finding.rule.rfind("reach.", 0) != 0) continue;
        if (finding.rule == "reach.screw" || !finding.seat_range) return std::nullopt;
        if (!all) all = finding.seat_range;
        all = {std::max(all->first, finding.seat_range->first), std::min(all->second, finding.seat_range->second)};
    }
    return all && all->first <= all->second ? all : std::nullopt;
}

std::pair<double, double> rounded_inwards(std::pair<double, double> n) {
    const double low = std::ceil(n.first * 10 - 1e-6) / 10;
    const double high = std::floor(n.second * 10 + 1e-6) / 10;
    return low > high ? n : std::pair(low, high);
}

std::string depth_range(std::pair<double, double> n) {
    const auto [low, high] = rounded_inwards(n);
    if (high <= 0) return fmt::format("{} to {} mm behind the bare face", mm(-high), mm(-low));
    if (low >= 0) return fmt::format("{} to {} mm in front of the bare face", mm(low), mm(high));
    return fmt::format("from {} mm behind to {} mm in front of the bare face", mm(-low), mm(high));
}

std::string to_string(Verdict verdict) {
    switch (verdict) {
        case Verdict::clear:
            return "clear";
        case Verdict::tight:
            return "tight";
        case Verdict::fails:
            return "fails";
        case Verdict::unknown:
            return "unknown";
    }
    return {};
}

int severity(Verdict verdict) {
    switch (verdict) {
        case Verdict::fails:
            return 3;
        case Verdict::unknown:
            return 2;
        case Verdict::tight:
            return 1;
        case Verdict::clear:
            return 0;
    }
    return 0;
}

}  // namespace standproud::rules
