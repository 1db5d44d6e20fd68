// Job files by the seed: text as a person might write it, with everything that a job can hold.
#pragma once

#include <cstdint>
#include <string>

namespace standproud::testing {

/// A whole job in one text: 1 to 5 walls at 45 to 315 degrees, of sizes from the least to the greatest allowed, lined
/// or bare, framed or of masonry, with survey, openings, joins, tray, types of every family, stock, fittings as
/// designed and as built, pipes, screens, sheets, bench and limits; each of them in some jobs only, and figures left
/// out here and there. The same seed gives the same text on every machine. It is TOML with known keys and allowed
/// values; what the figures mean together may still be refused.
std::string random_job_text(std::uint32_t seed);

/// The first of the texts for `seed`, then for seeds drawn from it, that is read and laid out without a fault. Fails
/// the test when 50 are refused.
std::string sound_job_text(std::uint32_t seed);

}  // namespace standproud::testing
