// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page_json.hpp"

#include "base/units.hpp"
#include "report/sheet_figures.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

}  // namespace

std::string logo_file(const job::Job& job) {
  return job.report.logo.empty() ? "" : "logo" + job.report.logo_ending;
}

Json report_json(const job::Job& job) {
  const job::ReportInput& r = job.report;
  return {{"fitter", text_or_null(r.fitter)},
          {"contact", text_or_null(r.contact)},
          {"logo", text_or_null(logo_file(job))},
          {"car", text_or_null(r.car)},
          {"customer", text_or_null(r.customer)},
          {"question", text_or_null(r.question)},
          {"proposal", text_or_null(r.proposal)}};
}

Json sheets_json(const job::Job& job) {
  Json out = Json::array();
  for (const sheet::Sheet& s : job.sheets) {
    const bool sized = s.stock_width_m > 0.0 && s.stock_length_m > 0.0;
    out.push_back(
        {{"name", s.name},
         {"kind", kind_word(s.kind)},
         {"mass_kg_m2", s.mass_per_area()},
         {"stock_mm",
          sized ? Json({base::to_mm(s.stock_width_m), base::to_mm(s.stock_length_m)})
                : Json(nullptr)},
         {"price_per_sheet", s.price_per_sheet > 0.0 ? Json(s.price_per_sheet) : Json(nullptr)}});
  }
  return out;
}

Json stock_sheets_json(const job::Job& job, const study::LayoutResult& layout) {
  double sheets = 0.0;
  for (const study::PieceResult& piece : layout.pieces)
    for (const std::string& name : piece.sheets) {
      const sheet::Sheet& s = job.sheet_named(name);
      const double stock_m2 = s.stock_width_m * s.stock_length_m;
      if (!(stock_m2 > 0.0)) return nullptr;
      sheets += piece.area_m2 / stock_m2;
    }
  return sheets;
}

}  // namespace calmplate::report
