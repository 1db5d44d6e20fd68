// models/README.md: its complete job and its fragments are good, its errors are reported word for word.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "modeler/job_reader.hpp"
#include "modeler/model.hpp"
#include "rules/limits.hpp"

namespace standproud {

namespace {

struct Block {
    std::string mark;  ///< "complete", "fragment", "error", "error, whole file"
    int line = 0;
    std::string job;
    std::string message;  ///< errors only
};

std::vector<std::string> lines_of(const std::filesystem::path& path) {
    std::ifstream file(path);
    std::vector<std::string> lines;
    for (std::string line; std::getline(file, line);) lines.push_back(line);
    return lines;
}

/// The text of the next block fenced as `kind`, from `at` on; moves `at` past it.
std::string fenced(const std::vector<std::string>& lines, std::size_t& at, const std::string& kind) {
    while (at < lines.size() && lines[at].empty()) ++at;
    EXPECT_TRUE(at < lines.size() && lines[at] == "```" + kind) << "a ```" << kind << " block before line " << at + 1;
    std::string text;
    for (++at; at < lines.size() && lines[at] != "```"; ++at) text += lines[at] + "\n";
    ++at;
    return text;
}

std::vector<Block> blocks_of(const std::filesystem::path& path) {
    const std::string mark = "<!-- job: ";
    const auto lines = lines_of(path);
    std::vector<Block> blocks;
    for (std::size_t at = 0; at < lines.size();) {
        const std::string line = lines[at++];
        if (line.rfind(mark, 0) != 0) continue;
        Block block;
        block.line = static_cast<int>(at);
        block.mark = line.substr(mark.size(), line.find(" -->") - mark.size());
        block.job = fenced(lines, at, "toml");
        if (block.mark.rfind("error", 0) == 0) block.message = fenced(lines, at, "text");
        blocks.push_back(block);
    }
    return blocks;
}

/// What the program would print for job.toml in the folder we stand in; empty when the job is good.
std::string faults_of(const std::string& text) {
    std::ofstream("job.toml") << text;
    Faults faults;
    Job job = read_job("job.toml", faults);
    (void)rules::limits_for(job, faults);
    if (faults.empty()) (void)build_model(std::move(job), faults);
    sort_faults(faults);
    std::string said;
    for (const auto& fault : faults) said += to_string(fault) + "\n";
    return said;
}

class ModelsReadme : public ::testing::Test {
  protected:
    void SetUp() override {
        std::string pattern = (std::filesystem::temp_directory_path() / "standproud-readme-XXXXXX").string();
        ASSERT_NE(mkdtemp(pattern.data()), nullptr);
        folder_ = pattern;
        stood_ = std::filesystem::current_path();
        std::filesystem::current_path(folder_);
        blocks_ = blocks_of(readme_);
        for (const auto& block : blocks_) {
            if (block.mark == "complete") complete_ = block.job;
        }
        ASSERT_FALSE(complete_.empty());
    }
    void TearDown() override {
        std::filesystem::current_path(stood_);
        std::filesystem::remove_all(folder_);
    }

    [[nodiscard]] std::vector<Block> marked(const std::string& mark) const {
        std::vector<Block> found;
        for (const auto& block : blocks_) {
            if (block.mark == mark) found.push_back(block);
        }
        return found;
    }

    const std::filesystem::path readme_ = std::filesystem::path(STANDPROUD_SOURCE_DIR) / "models" / "README.md";
    std::filesystem::path folder_;
    std::filesystem::path stood_;
    std::vector<Block> blocks_;
    std::string complete_;
};

}  // namespace

TEST_F(ModelsReadme, EveryMarkIsKnown) {
    const auto count = marked("complete").size() + marked("fragment").size() + marked("error").size() +
                       marked("error, whole file").size();
    EXPECT_EQ(count, blocks_.size());
    EXPECT_EQ(marked("complete").size(), 1U);
    EXPECT_GE(marked("fragment").size(), 6U);
    EXPECT_GE(marked("error").size(), 12U);
}

TEST_F(ModelsReadme, CompleteJobIsGood) { EXPECT_EQ(faults_of(complete_), ""); }

TEST_F(ModelsReadme, FragmentsAreGood) {
    for (const auto& block : marked("fragment")) {
        EXPECT_EQ(faults_of(complete_ + "\n" + block.job), "") << "README.md:" << block.line;
    }
}

TEST_F(ModelsReadme, ErrorsAreSaidAsPrinted) {
    for (const auto& block : marked("error")) {
        EXPECT_EQ(faults_of(complete_ + "\n" + block.job), block.message) << "README.md:" << block.line;
    }
    for (const auto& block : marked("error, whole file")) {
        EXPECT_EQ(faults_of(block.job), block.message) << "README.md:" << block.line;
    }
}

TEST_F(ModelsReadme, EveryLimitIsListedWithItsRange) {
    std::ostringstream whole;
    whole << std::ifstream(readme_).rdbuf();
    Faults faults;
    for (const auto& [name, limit] : rules::limits_for({}, faults)) {
        std::ostringstream row;
        row << "| `" << name << "` | " << limit.value << " " << limit.unit << " | " << limit.least << " to "
            << limit.most << " | " << limit.says;
        EXPECT_NE(whole.str().find(row.str()), std::string::npos) << row.str();
    }
}

TEST_F(ModelsReadme, EveryFigureOfTheBenchIsListedWithItsRange) {
    std::ostringstream whole;
    whole << std::ifstream(readme_).rdbuf();
    std::string text;
    for (const auto& block : marked("fragment")) {
        if (block.job.find("[bench]") != std::string::npos) text = complete_ + "\n" + block.job;
    }
    const std::size_t left_out = text.find("moisture_100");  // as shipped, then
    ASSERT_NE(left_out, std::string::npos);
    std::ofstream("job.toml") << text.erase(left_out, text.find('\n', left_out) - left_out);
    Faults faults;
    const Job job = read_job("job.toml", faults);
    ASSERT_TRUE(job.bench) << (faults.empty() ? "" : to_string(faults.front()));
    for (const auto& one : job.bench->figures) {
        std::ostringstream row;
        row << "| `" << one.key << "` | ";
        if (one.shipped.empty()) {
            row << "must be given";
        } else {
            row << one.value << " " << one.unit;
        }
        row << " | " << one.least << " to " << one.most << " " << one.unit << " | " << one.says << " | " << one.shipped;
        EXPECT_NE(whole.str().find(row.str()), std::string::npos) << row.str();
    }
}

}  // namespace standproud
