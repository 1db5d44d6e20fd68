// A sheet drawn on nothing: only what was put where is kept. And what other programs say of a file.
#pragma once

#include <cairo.h>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <functional>
#include <memory>
#include <string>

#include "drawing/sheet.hpp"

namespace standproud::testing {

class DrawnSheet {
  public:
    explicit DrawnSheet(const std::function<void(viewer::Sheet&)>& draw)
        : surface_(cairo_recording_surface_create(CAIRO_CONTENT_COLOR, nullptr)),
          context_(cairo_create(surface_)),
          sheet_(context_) {
        draw(sheet_);
        EXPECT_STREQ(cairo_status_to_string(cairo_status(context_)), "no error has occurred");
    }
    DrawnSheet(const DrawnSheet&) = delete;
    DrawnSheet& operator=(const DrawnSheet&) = delete;
    ~DrawnSheet() {
        cairo_destroy(context_);
        cairo_surface_destroy(surface_);
    }
    [[nodiscard]] const viewer::Sheet& sheet() const { return sheet_; }
    /// Texts that hold these words.
    [[nodiscard]] std::size_t count(const std::string& words) const {
        return static_cast<std::size_t>(
            std::count_if(sheet_.texts().begin(), sheet_.texts().end(),
                          [&](const auto& text) { return text.text.find(words) != std::string::npos; }));
    }
    [[nodiscard]] bool says(const std::string& words) const { return count(words) > 0; }
    /// A text that is these words and no more.
    [[nodiscard]] bool has(const std::string& words) const {
        return std::any_of(sheet_.texts().begin(), sheet_.texts().end(),
                           [&](const auto& text) { return text.text == words; });
    }
    [[nodiscard]] double scale() const {
        for (const auto& text : sheet_.texts()) {
            if (text.text.rfind("1:", 0) == 0) return std::stod(text.text.substr(2));
        }
        ADD_FAILURE() << "no scale on the sheet";
        return 0;
    }

  private:
    cairo_surface_t* surface_;
    cairo_t* context_;
    viewer::Sheet sheet_;
};

inline std::string described(const viewer::PlacedText& text) {
    return fmt::format("\"{}\" at {:.2f}, {:.2f}, {:.2f} x {:.2f}", text.text, text.box.x, text.box.y, text.box.width,
                       text.box.height);
}

/// Standard output of a command.
inline std::string output_of(const std::string& command) {
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe(::popen(command.c_str(), "r"), ::pclose);
    std::string text;
    std::array<char, 4096> chunk{};
    while (pipe) {
        const std::size_t length = std::fread(chunk.data(), 1, chunk.size(), pipe.get());
        if (length == 0) break;
        text.append(chunk.data(), length);
    }
    return text;
}

}  // namespace standproud::testing
