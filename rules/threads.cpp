#include "rules/threads.hpp"

#include <algorithm>
#include <array>

namespace standproud::rules {

namespace {

struct Row {
    const char* size;
    double pitch;
    double major;
};

// ISO 228-1 table 1 and ISO 7-1 table 1: the same pitches and gauge diameters.
constexpr std::array<Row, 6> pipe{{{"1/8", 0.907, 9.728},
                                   {"1/4", 1.337, 13.157},
                                   {"3/8", 1.337, 16.662},
                                   {"1/2", 1.814, 20.955},
                                   {"3/4", 1.814, 26.441},
                                   {"1", 2.309, 33.249}}};

constexpr std::array<Row, 5> metric{{{"3", 0.5, 3}, {"3.5", 0.6, 3.5}, {"4", 0.7, 4}, {"5", 0.8, 5}, {"6", 1.0, 6}}};

template <std::size_t N>
std::optional<Thread> row_of(const std::array<Row, N>& rows, const std::string& size, const char* source) {
    for (const auto& row : rows) {
        if (size == row.size) return Thread{row.pitch, row.major, source};
    }
    return std::nullopt;
}

}  // namespace

std::optional<Thread> thread_named(const std::string& name) {
    std::string plain = name;
    plain.erase(std::remove(plain.begin(), plain.end(), ' '), plain.end());
    if (plain.rfind("Rp", 0) == 0) return row_of(pipe, plain.substr(2), "ISO 7-1 table 1");
    if (plain.rfind('R', 0) == 0) return row_of(pipe, plain.substr(1), "ISO 7-1 table 1");
    if (plain.rfind('G', 0) == 0) return row_of(pipe, plain.substr(1), "ISO 228-1 table 1");
    if (plain.rfind('M', 0) == 0) return row_of(metric, plain.substr(1), "ISO 261 coarse, from memory");
    return std::nullopt;
}

}  // namespace standproud::rules
