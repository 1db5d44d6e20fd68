// Inside the sequence: ids found, order worked out.
#pragma once

#include <string>
#include <vector>

#include "modeler/sequence.hpp"

namespace standproud::sequence {

struct Links {
    std::vector<std::vector<std::size_t>> before;  ///< for each task, in the order of `after`
    std::vector<std::size_t> order;
    std::string refused;
};

Links link_tasks(const std::vector<Task>& tasks);

}  // namespace standproud::sequence
