// SPDX-License-Identifier: MIT
#include "picture/paper/paper.h"

#include <cairo-pdf.h>
#include <cairo.h>
#include <algorithm>
#include <cctype>
#include <cmath>
#include <memory>

#include "picture/paper/svg.h"

namespace loopmend {

namespace {

constexpr double kPointsPerMm = 72 / 25.4;
constexpr double kMostPixels = 10000;

struct FreeSurface {
    void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
};
struct FreeCairo {
    void operator()(cairo_t* c) const { cairo_destroy(c); }
};
using Surface = std::unique_ptr<cairo_surface_t, FreeSurface>;
using Context = std::unique_ptr<cairo_t, FreeCairo>;

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

void trace(cairo_t* c, const Curve& curve) {
    const std::vector<Point2>& p = curve.points;
    cairo_new_path(c);
    cairo_move_to(c, p[0].x, p[0].y);
    for (std::size_t i = 1; i + 2 < p.size(); i += 3)
        cairo_curve_to(c, p[i].x, p[i].y, p[i + 1].x, p[i + 1].y, p[i + 2].x, p[i + 2].y);
    if (curve.closed) cairo_close_path(c);
}

void write(cairo_t* c, const DrawItem& item) {
    cairo_select_font_face(c, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                           item.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(c, item.sizeMm);
    cairo_text_extents_t extents;
    cairo_text_extents(c, item.words.c_str(), &extents);
    const double back = item.align == Align::left     ? 0
                        : item.align == Align::middle ? 0.5 * extents.x_advance
                                                      : extents.x_advance;
    cairo_move_to(c, item.at.x - back, item.at.y);
    cairo_show_text(c, item.words.c_str());
}

void paint(cairo_t* c, const Drawing& drawing) {
    const auto use = [&](const Colour& colour) { cairo_set_source_rgb(c, colour.r, colour.g, colour.b); };
    use(drawing.ground);
    cairo_paint(c);
    cairo_set_line_join(c, CAIRO_LINE_JOIN_ROUND);
    for (const DrawItem& item : drawing.items) {
        use(item.colour);
        if (item.what == DrawItem::What::words) {
            write(c, item);
            continue;
        }
        if (item.what == DrawItem::What::window) cairo_reset_clip(c);
        if (item.curve.points.size() < 4) continue;
        trace(c, item.curve);
        if (item.what == DrawItem::What::window) {
            cairo_clip(c);
            continue;
        }
        if (item.what == DrawItem::What::area) {
            cairo_fill(c);
            continue;
        }
        cairo_set_line_width(c, item.widthMm);
        cairo_set_line_cap(c, item.cap == Cap::round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
        cairo_set_dash(c, item.dash.data(), static_cast<int>(item.dash.size()), 0);
        cairo_stroke(c);
    }
}

tl::expected<std::string, std::string> failed(const char* what) {
    return tl::make_unexpected(std::string("The picture could not be drawn: ") + what + ".");
}

tl::expected<std::string, std::string> pdfOf(const std::vector<Drawing>& drawings, const std::string& title) {
    std::string bytes;
    const auto points = [](double mm) { return mm * kPointsPerMm; };
    const Surface surface(cairo_pdf_surface_create_for_stream(
        append, &bytes, points(drawings.front().widthMm), points(drawings.front().heightMm)));
    // The day of printing would make every file another one.
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    for (const Drawing& drawing : drawings) {
        cairo_pdf_surface_set_size(surface.get(), points(drawing.widthMm), points(drawing.heightMm));
        const Context c(cairo_create(surface.get()));
        cairo_scale(c.get(), kPointsPerMm, kPointsPerMm);
        paint(c.get(), drawing);
        cairo_show_page(c.get());
        if (cairo_status(c.get()) != CAIRO_STATUS_SUCCESS)
            return failed(cairo_status_to_string(cairo_status(c.get())));
    }
    cairo_surface_finish(surface.get());
    if (cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS)
        return failed(cairo_status_to_string(cairo_surface_status(surface.get())));
    return bytes;
}

tl::expected<std::string, std::string> pngOf(const Drawing& drawing, const PaperOptions& options) {
    const double largest = std::max(drawing.widthMm, drawing.heightMm);
    const double scale = std::min(std::max(options.pixelsPerMm, 0.1), kMostPixels / largest);
    const auto pixels = [&](double mm) { return std::max(1, static_cast<int>(std::lround(mm * scale))); };
    const Surface surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels(drawing.widthMm), pixels(drawing.heightMm)));
    if (cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS)
        return failed(cairo_status_to_string(cairo_surface_status(surface.get())));
    {
        const Context c(cairo_create(surface.get()));
        cairo_scale(c.get(), scale, scale);
        paint(c.get(), drawing);
        if (cairo_status(c.get()) != CAIRO_STATUS_SUCCESS)
            return failed(cairo_status_to_string(cairo_status(c.get())));
    }
    std::string bytes;
    const cairo_status_t written = cairo_surface_write_to_png_stream(surface.get(), append, &bytes);
    if (written != CAIRO_STATUS_SUCCESS) return failed(cairo_status_to_string(written));
    return bytes;
}

}  // namespace

std::optional<PaperFormat> paperFormatOf(std::string_view name) {
    std::string ending;
    const std::size_t dot = name.rfind('.');
    if (dot == std::string_view::npos) return std::nullopt;
    for (const char c : name.substr(dot + 1))
        ending += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    if (ending == "svg") return PaperFormat::svg;
    if (ending == "pdf") return PaperFormat::pdf;
    if (ending == "png") return PaperFormat::png;
    return std::nullopt;
}

tl::expected<std::string, std::string> onPaper(const Drawing& drawing, PaperFormat format,
                                               const PaperOptions& options) {
    if (!(drawing.widthMm > 0) || !(drawing.heightMm > 0)) return failed("it has no size");
    switch (format) {
        case PaperFormat::svg: return svgOf(drawing);
        case PaperFormat::pdf: return pdfOf({drawing}, drawing.title);
        case PaperFormat::png: return pngOf(drawing, options);
    }
    return failed("the format is not known");
}

tl::expected<std::string, std::string> onSheets(const std::vector<Drawing>& drawings,
                                                const std::string& title) {
    if (drawings.empty()) return failed("there is no sheet");
    for (const Drawing& drawing : drawings) {
        if (!(drawing.widthMm > 0) || !(drawing.heightMm > 0)) return failed("it has no size");
    }
    return pdfOf(drawings, title);
}

}  // namespace loopmend
