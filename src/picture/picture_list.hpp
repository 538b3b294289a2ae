// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "picture/pictures.hpp"
#include "picture/sheet_file.hpp"

namespace calmplate::picture {

/// A picture that a result folder gives rise to.
struct Picture {
  std::string name;  ///< of its file, without ".png"
  std::function<RgbaImage(RenderWindow&)> draw;
};

/// All pictures of a result folder, in the order in which a customer would look at them. The
/// results and fields must outlive the list.
std::vector<Picture> pictures_of(const Results& results, const ResultFields& fields);

/// All pictures of a sheet: none for one that only adds mass. The sheet must outlive the list.
std::vector<Picture> pictures_of(const SheetFile& sheet);

/// The picture of what `calmplate check` found. The file must outlive the list.
std::vector<Picture> pictures_of(const CheckFile& check);

}  // namespace calmplate::picture
