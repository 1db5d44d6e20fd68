// A bench and a stock sheet for a job that has none: everything that nobody else can know is asked.
#include <fmt/format.h>

#include <algorithm>

#include "state/steps.hpp"
#include "viewer/bench_view.hpp"

namespace standproud::viewer {

namespace {

/// Keys and words as in the page on job files; the ranges are the reader's business.
std::vector<BenchQuestion> sheet_questions() {
    return {
        {"sheets.id", "name of the stock sheet, without spaces", "", {}, false},
        {"sheets.width", "its width", "mm", {}, false},
        {"sheets.height", "its height; a pattern's grain runs along it", "mm", {}, false},
        {"sheets.turning", "may pieces be turned on it (no: patterned)", "", {"yes", "no"}, false},
        {"sheets.price", "price of one, in any one currency", "", {}, true},
    };
}

std::vector<BenchQuestion> figure_questions() {
    return {
        {"start", "first day of the work, as 2026-03-31", "", {}, false},
        {"saw", "saw that cuts the outlines", "", {"circular", "table"}, false},
        {"kerf", "width of the saw cut", "mm", {}, false},
        {"trim", "taken off each new sheet's edges, kerf included", "mm", {}, false},
        {"fixed_at", "temperature of the panels when bonded", "\u00b0C", {}, false},
        {"coldest", "coldest that they get", "\u00b0C", {}, false},
        {"hottest", "hottest that they get", "\u00b0C", {}, false},
        {"fixed_humidity", "humidity they are used to when bonded", "% RH", {}, false},
        {"driest", "driest that they get used to", "% RH", {}, false},
        {"wettest", "wettest that they get used to", "% RH", {}, false},
        {"sealant_class", "movement class of the sealant, ISO 11600", "", {"25", "20", "12.5", "7.5"}, false},
        {"sealant_depth", "depth of sealant in a gap", "mm", {}, false},
        {"cartridge", "what a cartridge holds", "ml", {}, false},
        {"waste", "added to adhesive, sealant and tape", "%", {}, false},
        {"reach", "hands in front of the ankles when a panel is lifted", "cm", {}, false},
    };
}

/// As it is written in the file; empty when it is not what was asked for.
std::string written(const BenchQuestion& question, std::string answer) {
    const auto begin = answer.find_first_not_of(" \t");
    answer = begin == answer.npos ? "" : answer.substr(begin, answer.find_last_not_of(" \t") - begin + 1);
    if (answer.empty()) return "";
    if (question.key == "sheets.turning") return answer == "yes" ? "true" : answer == "no" ? "false" : "";
    if (question.key == "sheets.id" || !question.choices.empty()) return toml_string(answer);
    const bool number_or_date = answer.find_first_not_of("0123456789.-+eE") == answer.npos;
    return number_or_date && is_toml_value(answer) ? answer : "";
}

std::string lines_of(const std::vector<BenchQuestion>& questions, const BenchAnswers& answers, const std::string& feed,
                     std::string& wrong) {
    std::string text;
    for (const auto& question : questions) {
        const auto found = answers.find(question.key);
        const std::string answer = found == answers.end() ? "" : found->second;
        const std::string value = written(question, answer);
        if (value.empty() && question.optional && answer.find_first_not_of(" \t") == answer.npos) continue;
        if (value.empty() && wrong.empty())
            wrong = answer.empty() ? fmt::format("still to be answered: {}", question.says)
                                   : fmt::format("{}: \"{}\" is no answer", question.says, answer);
        const std::string key = question.key.substr(question.key.find('.') + 1);
        text += fmt::format("{} = {}{}", key, value, feed);
    }
    return text;
}

}  // namespace

std::vector<BenchQuestion> bench_questions(const BenchLack& lack) {
    std::vector<BenchQuestion> questions;
    if (lack.sheets) questions = sheet_questions();
    const auto figures = figure_questions();
    if (lack.bench) questions.insert(questions.end(), figures.begin(), figures.end());
    return questions;
}

Refusal add_bench(Document& document, const BenchAnswers& answers) {
    if (!document.job || !document.faults.empty()) return "the file has faults; put them right first";
    const auto places = Places::of(document.text);
    if (!places) return "the file is not readable as TOML: undo, or put it right in a text editor first";
    const BenchLack lack = bench_lack(*document.job);
    const std::string feed = places->line_feed();
    std::string wrong;
    std::string text = document.text.empty() || document.text.back() == '\n' ? "" : feed;
    if (lack.sheets) text += feed + "[[sheets]]" + feed + lines_of(sheet_questions(), answers, feed, wrong);
    if (lack.bench) text += feed + "[bench]" + feed + lines_of(figure_questions(), answers, feed, wrong);
    if (!wrong.empty()) return wrong;
    if (!lack.sheets && !lack.bench) return "the job has [bench] and [[sheets]] already";
    Faults faults;
    if (!open_job_text(document.text + text, document.file.string(), faults, &*document.job) || !faults.empty()) {
        sort_faults(faults);
        if (faults.empty()) return "the job would have faults";
        const Fault& first = faults.front();
        return first.allowed.empty() ? first.says : fmt::format("{}; allowed: {}", first.says, first.allowed);
    }
    const char* name = lack.bench ? lack.sheets ? "add [bench] and a sheet" : "add [bench]" : "add a sheet";
    return take_step(document, {name, "", {{document.text.size(), "", text}}});
}

}  // namespace standproud::viewer
