#include "modeler/source.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "modeler/clean_text.hpp"

namespace standproud {

std::string to_string(const Source& source) {
    if (source.line == 0) return source.file;
    if (source.column == 0) return fmt::format("{}:{}", source.file, source.line);
    return fmt::format("{}:{}:{}", source.file, source.line, source.column);
}

std::string to_string(const Fault& fault) {
    std::string text = fmt::format("{}: {}", to_string(fault.where), fault.says);
    std::string detail;
    if (!fault.key.empty()) detail += fmt::format("key {}", fault.key);
    if (!fault.found.empty()) detail += fmt::format("{}found {}", detail.empty() ? "" : "; ", fault.found);
    if (!fault.allowed.empty()) detail += fmt::format("{}allowed: {}", detail.empty() ? "" : "; ", fault.allowed);
    if (!detail.empty()) text += fmt::format(" ({})", detail);
    return clean_text(text);
}

void sort_faults(Faults& faults) {
    const auto order = [](const Fault& f) {
        return std::tie(f.where.file, f.where.line, f.where.column, f.key, f.says);
    };
    std::stable_sort(faults.begin(), faults.end(), [&](const Fault& a, const Fault& b) { return order(a) < order(b); });
    faults.erase(
        std::unique(faults.begin(), faults.end(), [&](const Fault& a, const Fault& b) { return order(a) == order(b); }),
        faults.end());
}

namespace {

std::size_t edit_distance(const std::string& a, const std::string& b) {
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
            diagonal = row[j];
            row[j] = std::min({replaced, row[j] + 1, row[j - 1] + 1});
        }
    }
    return row[b.size()];
}

}  // namespace

std::string nearest_word(const std::string& word, const std::vector<std::string>& known) {
    std::string best;
    std::size_t least = std::max<std::size_t>(2, word.size() / 2) + 1;
    for (const auto& candidate : known) {
        const std::size_t distance = edit_distance(word, candidate);
        if (distance < least) {
            least = distance;
            best = candidate;
        }
    }
    return best;
}

}  // namespace standproud
