// Default uncertainties: modeler/survey/instruments.toml, put in by the build.
#pragma once

#include <map>
#include <string>

#include "modeler/survey_readings.hpp"

namespace standproud {

struct Uncertainty {
    double plus_minus = 0;  ///< two standard errors
    std::string unit;
    std::string source;
};

struct Uncertainties {
    std::map<std::string, Uncertainty> instruments;  ///< by the instrument's word
    std::map<std::string, Uncertainty> assumptions;
};

const Uncertainties& shipped_uncertainties();

/// Standard error of a reading: half its own +/-, else half the job's for that instrument, else half the shipped.
double sigma_of(const SurveyReadings& readings, Instrument instrument, const std::optional<double>& own);

/// Half the +/- of an assumption.
double sigma_of_assumption(const std::string& name);

}  // namespace standproud
