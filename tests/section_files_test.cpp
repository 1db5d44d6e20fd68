// The level section as files: what is in them, their size, and the same bytes each time.
#include <cairo.h>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <stdexcept>

#include "section_sheets.hpp"

namespace standproud {

using hand_made::content;
using hand_made::every_fitting;
using hand_made::Folder;
using hand_made::HandMade;
using hand_made::output_of;
using hand_made::pdf_text;
using viewer::SectionDrawing;

// Reference library: poppler reads back what the sheet says.
TEST(SectionFiles, ThePdfSaysVerdictNumbersAndScale) {
    const HandMade made;
    const std::string text = pdf_text(made.drawing("hot"));
    for (const char* words :
         {"FAILS", "hot tap", "14.0 to 22.0", "3.5 to 12.5", "1:1", "millimetres", "finished face, F = 19.0",
          "spindle stands proud", "Hand-made recess", "381.0 finished", "Isolate water and power before work",
          "Measure on site before drilling", "±4.5", "room side", "inside the wall"}) {
        EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
    }
    EXPECT_NE(pdf_text(made.drawing("unset")).find("UNKNOWN"), std::string::npos);
    EXPECT_NE(pdf_text(made.drawing("mixer")).find("CLEAR"), std::string::npos);
    EXPECT_NE(pdf_text(made.drawing("outlet")).find("TIGHT"), std::string::npos);
}

TEST(SectionFiles, NoSheetPromisesSafety) {
    const HandMade made;
    for (const char* id : every_fitting) {
        const std::string text = pdf_text(made.drawing(id));
        ASSERT_GT(text.size(), 200U);
        for (const char* words : {"safe", "complian", "compli", "certif", "approved"}) {
            EXPECT_EQ(text.find(words), std::string::npos) << id << ": " << words;
        }
    }
}

// Reference library: poppler. A4 is 841.89 x 595.28 points.
TEST(SectionFiles, ThePdfIsOneA4SheetWithoutTheDay) {
    const Folder folder;
    const auto files = viewer::write_section(HandMade().drawing("hot"), folder.path() / "sheet");
    const std::string info = output_of(fmt::format("TZ=UTC pdfinfo '{}'", files.at(0).string()));
    EXPECT_NE(info.find("Pages:           1"), std::string::npos) << info;
    EXPECT_NE(info.find("841.89 x 595.276 pts (A4)"), std::string::npos) << info;
    EXPECT_NE(info.find("2000"), std::string::npos) << info;
}

// Closed form: 297 and 210 mm at 150 dots to the inch are 1754 and 1240 dots; 150 / 0.0254 = 5906 to the metre.
TEST(SectionFiles, ThePngStatesItsSize) {
    const Folder folder;
    const auto files = viewer::write_section(HandMade().drawing("hot"), folder.path() / "sheet");
    const std::string png = content(files.at(2));
    const auto number_at = [&](std::size_t at) {
        unsigned value = 0;
        for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(png.at(at + i));
        return value;
    };
    EXPECT_EQ(number_at(16), 1754U);
    EXPECT_EQ(number_at(20), 1240U);
    ASSERT_EQ(png.substr(37, 4), "pHYs");
    EXPECT_EQ(number_at(41), 5906U);
    EXPECT_EQ(number_at(45), 5906U);
    EXPECT_EQ(png.at(49), 1);
    cairo_surface_t* read = cairo_image_surface_create_from_png(files.at(2).c_str());
    EXPECT_EQ(cairo_surface_status(read), CAIRO_STATUS_SUCCESS);  // reference library: libpng checks the sums
    cairo_surface_destroy(read);
}

TEST(SectionFiles, TheSameDrawingGivesTheSameBytes) {
    const Folder folder;
    const HandMade made;
    const auto first = viewer::write_section(made.drawing("hot"), folder.path() / "first");
    // Something else in between, so that names which count up over the process would differ.
    const auto other = viewer::write_section(made.drawing("mixer"), folder.path() / "other");
    const auto second = viewer::write_section(made.drawing("hot"), folder.path() / "second");
    ASSERT_EQ(first.size(), 3U);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_GT(content(first[i]).size(), 1000U);
        EXPECT_EQ(content(first[i]), content(second[i])) << first[i];
        EXPECT_NE(content(first[i]), content(other[i])) << first[i];
    }
}

TEST(SectionFiles, TheSvgIsInMillimetresAndCanBeSearched) {
    const Folder folder;
    const HandMade made;
    SectionDrawing drawing = made.drawing("hot");
    drawing.title = "hot <tap> & \"spout\"";
    const auto files = viewer::write_section(drawing, folder.path() / "sheet");
    const std::string svg = content(files.at(1));
    EXPECT_NE(svg.find("width=\"297mm\" height=\"210mm\""), std::string::npos) << svg.substr(0, 300);
    EXPECT_NE(svg.find("<title>hot &lt;tap&gt; &amp;"), std::string::npos);
    EXPECT_NE(svg.find("FAILS"), std::string::npos);
    // Every name that is used is there.
    for (std::size_t at = svg.find("href=\"#"); at != std::string::npos; at = svg.find("href=\"#", at + 1)) {
        const std::string name = svg.substr(at + 7, svg.find('"', at + 7) - at - 7);
        ASSERT_NE(svg.find("id=\"" + name + "\""), std::string::npos) << name;
    }
    EXPECT_NE(svg.find("href=\"#"), std::string::npos);
}

TEST(SectionFiles, AFolderThatIsNotThereIsNamed) {
    try {
        viewer::write_section(HandMade().drawing("hot"), "/nonexistent-folder/sheet");
        FAIL() << "written into nowhere";
    } catch (const std::runtime_error& error) {
        EXPECT_NE(std::string(error.what()).find("/nonexistent-folder/sheet.pdf"), std::string::npos) << error.what();
    }
}

}  // namespace standproud
