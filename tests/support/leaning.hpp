// Recesses that lean, as an adjusted survey: made from a seed, without readings.
#pragma once

#include <random>

#include "modeler/model.hpp"

namespace standproud::testing {

/// A survey of this job, in which every wall leans by up to `most` mm per m and its free ends run askew; corners lie
/// where the leaning walls meet. Widths and angles are the job's. With `spots`, each wall has so many off its plane.
Survey leaning_survey(const Job& job, std::mt19937& random, double most, int spots);

/// One wall of a survey set by hand: its lean in mm per m.
Survey survey_with_leans(const Job& job, const std::vector<double>& leans);

}  // namespace standproud::testing
