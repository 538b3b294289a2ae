// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/pen.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <sstream>
#include <stdexcept>

#include "base/units.hpp"

namespace calmplate::cutting {

struct Pen::Page {
  cairo_t* cr = nullptr;
};

namespace {

using Eigen::Vector2d;

constexpr double kPointsPerMm = 72.0 / 25.4;
constexpr const char* kFont = "DejaVu Sans";
/// Stands in every PDF, so that the same plan gives the same bytes on any day.
constexpr const char* kDate = "2026-01-01T00:00:00Z";

cairo_status_t append(void* to, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

void require(cairo_status_t status) {
  if (status != CAIRO_STATUS_SUCCESS)
    throw std::runtime_error(std::string("drawing failed: ") + cairo_status_to_string(status));
}

struct FreeSurface {
  void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
};
struct FreeContext {
  void operator()(cairo_t* c) const { cairo_destroy(c); }
};
using Surface = std::unique_ptr<cairo_surface_t, FreeSurface>;
using Context = std::unique_ptr<cairo_t, FreeContext>;

/// A context whose unit is the millimetre.
Context context_on(cairo_surface_t* surface, double units_per_mm) {
  Context context(cairo_create(surface));
  require(cairo_status(context.get()));
  cairo_scale(context.get(), units_per_mm, units_per_mm);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  cairo_set_font_options(context.get(), options);
  cairo_font_options_destroy(options);
  cairo_set_line_join(context.get(), CAIRO_LINE_JOIN_MITER);
  return context;
}

void run(const PageDrawing& page, cairo_t* context) {
  Pen::Page held{context};
  Pen pen(held);
  pen.grey(0.0);
  pen.width(0.25);
  page.draw(pen);
  require(cairo_status(context));
}

void choose_font(cairo_t* cr, double size, bool bold) {
  cairo_select_font_face(
      cr, kFont, CAIRO_FONT_SLANT_NORMAL, bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(cr, size);
}

}  // namespace

void Pen::grey(double level) { colour(level, level, level); }
void Pen::colour(double r, double g, double b) { cairo_set_source_rgb(page_.cr, r, g, b); }
void Pen::width(double mm) { cairo_set_line_width(page_.cr, mm); }
void Pen::dash(const std::vector<double>& mm) {
  cairo_set_dash(page_.cr, mm.data(), static_cast<int>(mm.size()), 0.0);
}

void Pen::trace(const std::vector<Vector2d>& points, bool closed) {
  cairo_new_sub_path(page_.cr);
  for (const Vector2d& p : points) cairo_line_to(page_.cr, p.x(), p.y());
  if (closed) cairo_close_path(page_.cr);
}

void Pen::line(const Vector2d& a, const Vector2d& b) { path({a, b}, false); }

void Pen::path(const std::vector<Vector2d>& points, bool closed) {
  trace(points, closed);
  cairo_stroke(page_.cr);
}

void Pen::rectangle(const Vector2d& corner, const Vector2d& size) {
  cairo_rectangle(page_.cr, corner.x(), corner.y(), size.x(), size.y());
  cairo_stroke(page_.cr);
}

void Pen::fill_rectangle(const Vector2d& corner, const Vector2d& size) {
  cairo_rectangle(page_.cr, corner.x(), corner.y(), size.x(), size.y());
  cairo_fill(page_.cr);
}

void Pen::fill(const std::vector<std::vector<Vector2d>>& loops) {
  cairo_set_fill_rule(page_.cr, CAIRO_FILL_RULE_EVEN_ODD);
  for (const auto& loop : loops) trace(loop, true);
  cairo_fill(page_.cr);
}

void Pen::hatch(const std::vector<std::vector<Vector2d>>& loops, double spacing_mm) {
  if (loops.empty()) return;
  Vector2d low = Vector2d::Constant(std::numeric_limits<double>::max()), high = -low;
  for (const auto& loop : loops)
    for (const Vector2d& p : loop) {
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
    }
  cairo_save(page_.cr);
  cairo_set_fill_rule(page_.cr, CAIRO_FILL_RULE_EVEN_ODD);
  for (const auto& loop : loops) trace(loop, true);
  cairo_clip(page_.cr);
  const double step = spacing_mm * std::sqrt(2.0), tall = high.y() - low.y();
  for (double x = low.x() - tall; x < high.x(); x += step) line({x, high.y()}, {x + tall, low.y()});
  cairo_restore(page_.cr);
}

void Pen::disc(const Vector2d& centre, double radius) {
  cairo_new_sub_path(page_.cr);
  cairo_arc(page_.cr, centre.x(), centre.y(), radius, 0.0, base::kTwoPi);
  cairo_fill(page_.cr);
}

void Pen::circle(const Vector2d& centre, double radius) {
  cairo_new_sub_path(page_.cr);
  cairo_arc(page_.cr, centre.x(), centre.y(), radius, 0.0, base::kTwoPi);
  cairo_stroke(page_.cr);
}

void Pen::arrow(const Vector2d& from, const Vector2d& to) {
  const Vector2d whole = to - from;
  const double length = whole.norm();
  if (length <= 0.0) return;
  const Vector2d along = whole / length, across(-along.y(), along.x());
  const double head = std::min(3.0, 0.5 * length);
  line(from, to - 0.5 * head * along);
  fill({{to, to - head * along + 0.3 * head * across, to - head * along - 0.3 * head * across}});
}

void Pen::cross(const Vector2d& at, double size) {
  const Vector2d x(0.5 * size, 0.0), y(0.0, 0.5 * size);
  line(at - x, at + x);
  line(at - y, at + y);
}

void Pen::text(const Vector2d& at,
               const std::string& words,
               double size,
               Anchor anchor,
               bool bold,
               double radians) {
  if (words.empty()) return;
  const double shift = anchor == Anchor::left     ? 0.0
                       : anchor == Anchor::middle ? 0.5 * text_width(words, size, bold)
                                                  : text_width(words, size, bold);
  choose_font(page_.cr, size, bold);
  cairo_save(page_.cr);
  cairo_translate(page_.cr, at.x(), at.y());
  cairo_rotate(page_.cr, radians);
  cairo_move_to(page_.cr, -shift, 0.0);
  cairo_show_text(page_.cr, words.c_str());
  cairo_new_path(page_.cr);
  cairo_restore(page_.cr);
}

void Pen::clipped(const Vector2d& corner, const Vector2d& size, const std::function<void()>& draw) {
  cairo_save(page_.cr);
  cairo_rectangle(page_.cr, corner.x(), corner.y(), size.x(), size.y());
  cairo_clip(page_.cr);
  draw();
  cairo_restore(page_.cr);
}

double text_width(const std::string& words, double size, bool bold) {
  const Surface surface(cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, nullptr));
  const Context context = context_on(surface.get(), 1.0);
  choose_font(context.get(), size, bold);
  cairo_text_extents_t extents;
  cairo_text_extents(context.get(), words.c_str(), &extents);
  require(cairo_status(context.get()));
  return extents.x_advance;
}

std::vector<std::string> text_lines(const std::string& words, double size, double width) {
  std::vector<std::string> lines;
  std::istringstream stream(words);
  for (std::string word; stream >> word;) {
    if (!lines.empty() && text_width(lines.back() + " " + word, size) <= width)
      lines.back() += " " + word;
    else
      lines.push_back(word);
  }
  return lines;
}

std::string pdf_bytes(const std::vector<PageDrawing>& pages, const std::string& title) {
  if (pages.empty()) throw std::invalid_argument("pdf_bytes: no page");
  std::string bytes;
  Surface surface(cairo_pdf_surface_create_for_stream(append,
                                                      &bytes,
                                                      pages.front().width_mm * kPointsPerMm,
                                                      pages.front().height_mm * kPointsPerMm));
  require(cairo_surface_status(surface.get()));
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "calmplate");
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, kDate);
  const Context context = context_on(surface.get(), kPointsPerMm);
  for (const PageDrawing& page : pages) {
    cairo_pdf_surface_set_size(
        surface.get(), page.width_mm * kPointsPerMm, page.height_mm * kPointsPerMm);
    cairo_save(context.get());
    run(page, context.get());
    cairo_restore(context.get());
    cairo_show_page(context.get());
  }
  cairo_surface_finish(surface.get());
  require(cairo_surface_status(surface.get()));
  return bytes;
}

std::string svg_bytes(const PageDrawing& page) {
  std::string bytes;
  Surface surface(
      cairo_svg_surface_create_for_stream(append, &bytes, page.width_mm, page.height_mm));
  require(cairo_surface_status(surface.get()));
  cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_MM);
  {
    const Context context = context_on(surface.get(), 1.0);
    cairo_set_source_rgb(context.get(), 1.0, 1.0, 1.0);
    cairo_paint(context.get());
    run(page, context.get());
    cairo_show_page(context.get());
  }
  cairo_surface_finish(surface.get());
  require(cairo_surface_status(surface.get()));
  return bytes;
}

std::string png_bytes(const PageDrawing& page, double dots_per_inch) {
  const double dots_per_mm = dots_per_inch / 25.4;
  const Surface surface(
      cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                                 static_cast<int>(std::ceil(page.width_mm * dots_per_mm)),
                                 static_cast<int>(std::ceil(page.height_mm * dots_per_mm))));
  require(cairo_surface_status(surface.get()));
  {
    const Context context = context_on(surface.get(), dots_per_mm);
    cairo_set_source_rgb(context.get(), 1.0, 1.0, 1.0);
    cairo_paint(context.get());
    run(page, context.get());
  }
  std::string bytes;
  require(cairo_surface_write_to_png_stream(surface.get(), append, &bytes));
  return bytes;
}

}  // namespace calmplate::cutting
