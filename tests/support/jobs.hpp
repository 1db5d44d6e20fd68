// Jobs for tests: from text, from a seed, and mirrored.
#pragma once

#include <filesystem>
#include <random>
#include <string>

#include "modeler/job.hpp"
#include "modeler/model.hpp"
#include "rules/finding.hpp"

namespace standproud::testing {

/// A folder of its own for one test, removed with it.
class Folder {
  public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

/// Reads a job from text, as a file called job.toml.
Job job_of(const std::string& text, Faults& faults);

/// Reads, lays out and fails the test on any fault.
Model model_of(const std::string& text);

/// The findings of a job with the limits it sets.
std::vector<rules::Finding> findings_of(const Model& model);
std::vector<rules::Finding> findings_of(const std::string& text);

/// The finding of one rule for one fitting; fails the test when there is none.
rules::Finding finding_of(const std::vector<rules::Finding>& findings, const std::string& rule,
                          const std::string& subject, const std::string& quantity = "");

/// A three-wall recess, 1200 x 900 x 2400, with the build-up board 9, bed 2, panel 6 (F = 17, +/- 0.3, 0.5, 0.3).
/// `rest` follows: types, stock, fittings.
std::string recess(const std::string& rest, const std::string& job_keys = "");

/// A random recess of 2 to 4 walls at any angles, with studs, layers and fittings of every family, all
/// positions from bare or finished corners or centred.
Job random_job(std::mt19937& random);

/// The same job seen in a mirror: walls, angles and positions swapped left for right.
Job mirrored(const Job& job);

}  // namespace standproud::testing
