// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/page.hpp"

#include "page/format.hpp"
#include "page/style.hpp"
#include "page/voices.hpp"
#include "page/words.hpp"

namespace calmplate::page {

std::string file_name(Voice voice) {
  return voice == Voice::customer ? "customer.html" : "report.html";
}

std::string report_page(const std::filesystem::path& folder, Voice voice) {
  const Source source{read_results(folder / "results.json"), folder};
  const bool customer = voice == Voice::customer;
  const std::string title = fill(words::kTitle, {{"car", car_of(source.results)}});
  return "<!DOCTYPE html>\n<html lang=\"" + std::string(words::kLanguage) +
         "\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
         "<link rel=\"icon\" href=\"data:,\">\n<title>" +
         escaped(title) + "</title>\n<style>" + style_sheet(customer) +
         "</style>\n</head>\n<body>\n" + "<a class=\"skip\" href=\"#answer\">" +
         escaped(words::kSkip) + "</a>\n" + head_html(source) + "<main>\n" +
         (customer ? customer_body(source) : fitter_body(source)) + "</main>\n" +
         foot_html(source.results) + "</body>\n</html>\n";
}

}  // namespace calmplate::page
