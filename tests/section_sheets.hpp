// What the tests of the section sheet share: the hand-made model judged, and its sheets as files and as text.
#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>

#include "section_model.hpp"
#include "support/drawn_sheet.hpp"
#include "viewer/section.hpp"

namespace standproud::hand_made {

using testing::output_of;
using viewer::SectionDrawing;

/// The model with one fitting of each family, judged; the drawings point into it.
struct HandMade {
    Made all;
    HandMade() : HandMade(hand_made::job()) {}
    explicit HandMade(Job from) {
        Faults faults;
        all = made(std::move(from), faults);
        for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    }
    /// Points into this model, which must outlive it.
    [[nodiscard]] SectionDrawing drawing(const std::string& fitting) const {
        for (std::size_t i = 0; i < all.model.fittings.size(); ++i) {
            if (fitting_of(all.model, all.model.fittings[i]).id == fitting) {
                return viewer::section_of(all.model, all.parts, all.findings, i);
            }
        }
        ADD_FAILURE() << "no fitting " << fitting;
        return {};
    }
};

inline constexpr std::array<const char*, 6> every_fitting{"hot", "mixer", "spout", "rail", "outlet", "unset"};

class Folder {
  public:
    Folder() : path_(std::filesystem::temp_directory_path() / fmt::format("section-test-{}", ::getpid())) {
        std::filesystem::create_directories(path_);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() { std::filesystem::remove_all(path_); }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

inline std::string content(const std::filesystem::path& path) {
    std::ifstream stream(path, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

inline std::string pdf_text(const SectionDrawing& drawing) {
    const Folder folder;
    const auto files = viewer::write_section(drawing, folder.path() / "sheet");
    return output_of(fmt::format("pdftotext -layout '{}' -", files.at(0).string()));
}

}  // namespace standproud::hand_made
