// What the window decides, without a screen: what Escape lets go of, how its width is shared, how large letters are.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "rules/words.hpp"
#include "window/escape.hpp"
#include "window/layout.hpp"
#include "window/lettering.hpp"

namespace standproud::viewer {
namespace {

/// The order that was asked for: a list open in a form, the form, the choice, the view.
TEST(Escape, OneStepAtATimeTheInnermostFirst) {
    Standing all{true, true, true, true, true, true, true, true};
    const std::array<std::pair<bool Standing::*, EscapeStep>, 8> order{{{&Standing::list, EscapeStep::list},
                                                                        {&Standing::form, EscapeStep::form},
                                                                        {&Standing::typing, EscapeStep::typing},
                                                                        {&Standing::help, EscapeStep::help},
                                                                        {&Standing::section, EscapeStep::section},
                                                                        {&Standing::tool, EscapeStep::tool},
                                                                        {&Standing::choice, EscapeStep::choice},
                                                                        {&Standing::view, EscapeStep::view}}};
    for (const auto& [what, step] : order) {
        EXPECT_EQ(escape_step(all), step);
        all.*what = false;
    }
    EXPECT_EQ(escape_step(all), EscapeStep::nothing);
}

/// The picture's share of the width.
double share(float width, float em, const WantedColumns& wanted) {
    const Columns c = columns(width, em, wanted);
    return static_cast<double>((width - c.left - c.right) / width);
}

TEST(Layout, ThePictureKeepsHalfOfANarrowWindow) {
    const WantedColumns all{true, true, false};
    for (const float letters : {1.0F, 1.25F, 1.5F, 2.0F, 3.0F}) {
        for (const bool many : {false, true}) {
            EXPECT_GE(share(900, 15 * letters, {true, true, many}), 0.5) << letters;
            EXPECT_GE(share(900, 15 * letters, {false, true, many}), 0.5) << letters;
        }
    }
    EXPECT_TRUE(columns(900, 15, all).one) << "findings are a tab beside the others";
    EXPECT_GE(columns(900, 15, all).right, 20 * 15) << "wide enough to be read";
    EXPECT_FALSE(columns(1280, 15, all).one);
    EXPECT_FALSE(columns(3840, 30, all).one);
    int widths = 0;
    for (float width = 900; width <= 4000; width += 10, ++widths) {
        for (const float em : {15.0F, 18.75F, 30.0F, 45.0F}) {
            for (const bool many : {false, true}) {
                const Columns c = columns(width, em, {true, true, many});
                EXPECT_GE(share(width, em, {true, true, many}), c.one ? 0.4999 : 0.4499) << width << " " << em;
                if (c.one) continue;
                EXPECT_GE(c.left, 20 * em - 0.01F);
                EXPECT_GE(c.right, 19 * em - 0.01F);
            }
        }
    }
    EXPECT_GT(widths, 300);
    EXPECT_EQ(columns(900, 15, {true, false, false}).right, 0) << "no job: nothing beside the middle";
}

TEST(Layout, AFloatingWindowIsWhollyInside) {
    const Box area{0, 23, 900, 537};
    const auto inside = [&](const Box& box) {
        return box.x >= area.x && box.y >= area.y && box.x + box.width <= area.x + area.width &&
               box.y + box.height <= area.y + area.height;
    };
    const Box there{100, 100, 500, 300};
    const Box kept = kept_inside(there, area);
    EXPECT_EQ(kept.x, 100);
    EXPECT_EQ(kept.width, 500) << "what is inside stays as it is";
    int tried = 0;
    for (float x = -1000; x <= 2000; x += 250) {
        for (float y = -1000; y <= 2000; y += 250) {
            for (const float size : {50.0F, 500.0F, 2000.0F}) {
                ++tried;
                EXPECT_TRUE(inside(kept_inside({x, y, size, size}, area))) << x << " " << y << " " << size;
            }
        }
    }
    EXPECT_GT(tried, 400);
    EXPECT_EQ(kept_inside({850, 500, 300, 200}, area).width, 300) << "moved, not made smaller";
}

/// 96 dots to an inch is the size that interfaces are drawn for: common practice, no source.
TEST(Lettering, FollowsTheScreen) {
    EXPECT_EQ(lettering({}), 1) << "nothing is known";
    EXPECT_EQ(lettering({192, 0, 0}), 2);
    EXPECT_EQ(lettering({96, 192, 192}), 1) << "what the desktop asks for comes first";
    EXPECT_EQ(lettering({120, 0, 0}), 1.25);
    EXPECT_EQ(lettering({0, 192, 96}), 2);
    EXPECT_EQ(lettering({0, 96, 163}), 1.5) << "the server's 96 are no opinion";
    // Monitors in shops: 24 inch of 1920 x 1080, 27 inch of 2560 x 1440, 27 inch of 3840 x 2160.
    EXPECT_EQ(lettering({0, 0, dots_to_an_inch(1920, 1080, 531, 299)}), 1);
    EXPECT_EQ(lettering({0, 0, dots_to_an_inch(2560, 1440, 597, 336)}), 1);
    EXPECT_EQ(lettering({0, 0, dots_to_an_inch(3840, 2160, 597, 336)}), 1.5);
    // 3840 x 2160 at 192, in whole mm as a server has it.
    EXPECT_NEAR(dots_to_an_inch(3840, 2160, 508, 286), 192, 0.2);
    EXPECT_EQ(lettering({0, dots_to_an_inch(3840, 2160, 508, 286), 0}), 2);
    EXPECT_EQ(lettering({0, dots_to_an_inch(1280, 800, 339, 212), 0}), 1) << "96";
    EXPECT_EQ(lettering({30, 0, 0}), 1) << "not too small to read";
    EXPECT_EQ(lettering({2000, 0, 0}), 3) << "not larger than the window";
    EXPECT_EQ(dots_to_an_inch(1920, 1080, 16, 9), 0) << "a shape, no size";
    EXPECT_EQ(dots_to_an_inch(1920, 1080, 0, 0), 0) << "a projector";
}

TEST(Words, OneIsNotMany) {
    EXPECT_EQ(rules::counted(0, "verdict"), "0 verdicts");
    EXPECT_EQ(rules::counted(1, "verdict"), "1 verdict");
    EXPECT_EQ(rules::counted(2, "verdict"), "2 verdicts");
    EXPECT_EQ(rules::counted(1, "box", "boxes"), "1 box");
    EXPECT_EQ(rules::counted(3, "box", "boxes"), "3 boxes");
}

}  // namespace
}  // namespace standproud::viewer
