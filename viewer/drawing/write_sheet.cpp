// One sheet as PDF, SVG and PNG, made in memory and written whole.
#include "drawing/write_sheet.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>
#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <map>
#include <memory>
#include <stdexcept>

#include "modeler/clean_text.hpp"
#include "modeler/files.hpp"

namespace standproud::viewer {

namespace {

struct Drawing {
    const std::string& title;
    const std::function<void(Sheet&)>& draw;
};

constexpr double points_per_mm = 72 / 25.4;
constexpr double dots_per_inch = 150;
/// A file's date would make each run's bytes differ; the revision in the title block is what counts.
constexpr const char* fixed_date = "2000-01-01T00:00:00Z";

struct DropSurface {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct DropContext {
    void operator()(cairo_t* context) const { cairo_destroy(context); }
};
using Surface = std::unique_ptr<cairo_surface_t, DropSurface>;
using Context = std::unique_ptr<cairo_t, DropContext>;

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

void must(cairo_status_t status, const std::filesystem::path& path) {
    if (status == CAIRO_STATUS_SUCCESS) return;
    throw std::runtime_error(fmt::format("cannot draw {}: {}", path.string(), cairo_status_to_string(status)));
}

/// Draws on a surface whose unit is 1/`per_mm` mm, and gives back what was written.
std::vector<PlacedText> draw_on(cairo_surface_t* surface, double per_mm, const Drawing& drawing,
                                const std::filesystem::path& path) {
    const Context context(cairo_create(surface));
    cairo_scale(context.get(), per_mm, per_mm);
    Sheet sheet(context.get());
    drawing.draw(sheet);
    must(cairo_status(context.get()), path);
    return sheet.texts();
}

std::string pdf_bytes(const std::string& title, const std::vector<std::function<void(Sheet&)>>& pages,
                      const std::filesystem::path& path) {
    std::string bytes;
    const Surface surface(cairo_pdf_surface_create_for_stream(append, &bytes, Sheet::width * points_per_mm,
                                                              Sheet::height * points_per_mm));
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, fixed_date);
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, clean_text(title).c_str());
    for (const auto& draw : pages) {
        draw_on(surface.get(), points_per_mm, {title, draw}, path);
        cairo_surface_show_page(surface.get());
    }
    cairo_surface_finish(surface.get());
    must(cairo_surface_status(surface.get()), path);
    return bytes;
}

std::string escaped(const std::string& words) {
    std::string safe;
    for (const char c : words) {
        switch (c) {
            case '&':
                safe += "&amp;";
                break;
            case '<':
                safe += "&lt;";
                break;
            case '>':
                safe += "&gt;";
                break;
            default:
                safe += c;
        }
    }
    return safe;
}

/// The names of things in the file count up over the whole process; here they are counted again from 1 in
/// the order they come, so that a drawing's bytes do not depend on what was drawn before it.
std::string renumbered(const std::string& svg) {
    static constexpr std::string_view mark = "id=\"";
    std::map<std::string, std::string> names;
    std::map<std::string, int> count;
    for (std::size_t at = svg.find(mark); at != std::string::npos; at = svg.find(mark, at + 1)) {
        const std::size_t from = at + mark.size();
        const std::string old = svg.substr(from, svg.find('"', from) - from);
        const std::string stem = old.substr(0, old.find_first_of("0123456789"));
        if (!names.contains(old)) names[old] = fmt::format("{}{}", stem, ++count[stem]);
    }
    std::string renamed;
    std::size_t at = 0;
    while (at < svg.size()) {
        // A name stands between id=" or # and the next " or ).
        const bool here = svg.compare(at, mark.size(), mark) == 0;
        const std::size_t lead = here ? mark.size() : svg[at] == '#' ? 1 : 0;
        renamed.append(svg, at, std::max<std::size_t>(lead, 1));
        at += std::max<std::size_t>(lead, 1);
        if (lead == 0) continue;
        const std::size_t end = svg.find_first_of("\")", at);
        const auto known = names.find(svg.substr(at, end - at));
        if (known == names.end()) continue;
        renamed += known->second;
        at = end;
    }
    return renamed;
}

std::string svg_bytes(const Drawing& drawing, const std::filesystem::path& path) {
    std::string bytes;
    // In millimetres: one unit of the drawing is one millimetre of paper.
    const Surface surface(cairo_svg_surface_create_for_stream(append, &bytes, Sheet::width, Sheet::height));
    cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_MM);
    const auto texts = draw_on(surface.get(), 1, drawing, path);
    cairo_surface_finish(surface.get());
    must(cairo_surface_status(surface.get()), path);
    bytes = renumbered(bytes);
    // Letters are outlines in this format, so what is written is given again for those who search or listen.
    std::string words = fmt::format("\n<title>{}</title>\n<desc>", escaped(clean_text(drawing.title)));
    for (const auto& text : texts) words += escaped(text.text) + "\n";
    words += "</desc>";
    const std::size_t root = bytes.find("<svg");
    const std::size_t head = root == std::string::npos ? root : bytes.find('>', root);
    if (head != std::string::npos) bytes.insert(head + 1, words);
    return bytes;
}

std::uint32_t check_sum(std::string_view bytes) {  // CRC-32 as in the PNG specification, annex D
    std::uint32_t sum = 0xffffffffU;
    for (const char c : bytes) {
        sum ^= static_cast<unsigned char>(c);
        for (int bit = 0; bit < 8; ++bit) sum = (sum & 1U) != 0 ? 0xedb88320U ^ (sum >> 1U) : sum >> 1U;
    }
    return ~sum;
}

void append_number(std::string& bytes, std::uint32_t value) {
    for (int shift = 24; shift >= 0; shift -= 8) bytes += static_cast<char>((value >> shift) & 0xffU);
}

/// Says how large the picture is on paper, so that it prints at true scale: chunk pHYs, dots per metre.
void state_size(std::string& png) {
    std::string chunk = "pHYs";
    const auto per_metre = static_cast<std::uint32_t>(std::lround(dots_per_inch / 0.0254));
    append_number(chunk, per_metre);
    append_number(chunk, per_metre);
    chunk += '\1';
    std::string whole;
    append_number(whole, static_cast<std::uint32_t>(chunk.size() - 4));
    whole += chunk;
    append_number(whole, check_sum(chunk));
    constexpr std::size_t after_header = 8 + 25;  // signature and IHDR
    png.insert(after_header, whole);
}

std::string png_bytes(const Drawing& drawing, const std::filesystem::path& path) {
    const double per_mm = dots_per_inch / 25.4;
    const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                                                     static_cast<int>(std::lround(Sheet::width * per_mm)),
                                                     static_cast<int>(std::lround(Sheet::height * per_mm))));
    draw_on(surface.get(), per_mm, drawing, path);
    std::string bytes;
    must(cairo_surface_write_to_png_stream(surface.get(), append, &bytes), path);
    state_size(bytes);
    return bytes;
}

}  // namespace

std::vector<SheetFile> sheet_files(const std::string& title, const std::function<void(Sheet&)>& draw,
                                   const std::string& stem) {
    const Drawing drawing{title, draw};
    return {{stem + ".pdf", pdf_bytes(title, {draw}, stem + ".pdf")},
            {stem + ".svg", svg_bytes(drawing, stem + ".svg")},
            {stem + ".png", png_bytes(drawing, stem + ".png")}};
}

std::string pdf_of_sheets(const std::string& title, const std::vector<std::function<void(Sheet&)>>& pages) {
    return pdf_bytes(title, pages, title);
}

std::vector<std::filesystem::path> write_sheet(const std::string& title, const std::function<void(Sheet&)>& draw,
                                               const std::filesystem::path& stem) {
    std::vector<std::filesystem::path> written;
    for (const auto& file : sheet_files(title, draw, stem.string())) {
        write_whole(file.path, file.bytes);
        written.emplace_back(file.path);
    }
    return written;
}

}  // namespace standproud::viewer
