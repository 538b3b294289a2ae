// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>

namespace calmplate::page {

/// Who reads: the customer gets one page without jargon, the fitter all there is.
enum class Voice { customer, fitter };

/// "customer.html" or "report.html": under what name the page stands in a result folder.
std::string file_name(Voice voice);

/// The page of a result folder as one HTML file: pictures, sounds, charts and style are inside it,
/// and it asks for nothing from anywhere. Pictures and logo that are not in the folder are left
/// out. The same folder gives the same bytes.
///
/// @param folder  what `calmplate run -o` wrote: results.json, pictures/velocity_*.png, the logo
/// @throws base::InputError if results.json cannot be read or is damaged
std::string report_page(const std::filesystem::path& folder, Voice voice);

}  // namespace calmplate::page
