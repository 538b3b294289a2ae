// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/job_text.hpp"

#include <stdexcept>
#include <utility>

#include "base/safe_output.hpp"
#include "job/file_text.hpp"
#include "job/read_sections.hpp"

namespace calmplate::editing {
namespace {

namespace fs = std::filesystem;

std::string read(const fs::path& file) {
  return job::file_text(file, "a job file", "a job file with at least [job], [panel] and [drive]");
}

std::vector<Held> held_in(const std::vector<Layout>& layouts) {
  std::vector<Held> out;
  for (const Layout& layout : layouts) {
    out.push_back({layout.id, {}});
    for (const auto& piece : layout.pieces) out.back().pieces.push_back(piece->id);
  }
  return out;
}

/// As Document counts them.
std::vector<Held> held_in(const job::WrittenLayouts& written) {
  std::vector<Held> out;
  int next = 1;
  for (const job::WrittenLayout& layout : written.layouts) {
    out.push_back({next++, {}});
    for (std::size_t i = 0; i < layout.pieces.size(); ++i) out.back().pieces.push_back(next++);
  }
  return out;
}

/// True if a text says what the layouts are.
bool says(const std::string& text, const fs::path& file, const std::vector<Layout>& layouts) {
  const job::WrittenLayouts written = job::written_layouts(text, file);
  if (written.layouts.size() != layouts.size()) return false;
  for (std::size_t i = 0; i < layouts.size(); ++i) {
    const job::WrittenLayout& w = written.layouts[i];
    if (w.name != layouts[i].name || w.to_place != layouts[i].to_place ||
        w.pieces.size() != layouts[i].pieces.size())
      return false;
    for (std::size_t k = 0; k < w.pieces.size(); ++k)
      if (w.pieces[k] != layouts[i].pieces[k]->written) return false;
  }
  return true;
}

}  // namespace

JobText JobText::open(const fs::path& file) { return JobText(read(file), file); }

JobText::JobText(std::string text, fs::path file)
    : text_(std::move(text)),
      file_(std::move(file)),
      held_(held_in(job::written_layouts(text_, file_))) {}

std::string JobText::with(const Document& document) const {
  const std::string out =
      text_with(text_, file_.string(), held_, document.layouts(), document.job());
  if (!says(out, file_, document.layouts()))
    throw std::logic_error("JobText: the text does not say what the document does");
  if (out != text_) job::read_job_text(out, file_);
  return out;
}

void JobText::save(Document& document) {
  if (read(file_) != text_)
    throw base::InputError({file_.string(), 0, ""},
                           "was changed by another program since it was opened",
                           "saving under another name, or opening it again");
  write(document, file_);
}

void JobText::save_as(Document& document, const fs::path& file) {
  const fs::path here = fs::absolute(file_).parent_path().lexically_normal();
  if (fs::absolute(file).parent_path().lexically_normal() != here)
    throw base::InputError({file.string(), 0, ""},
                           "lies in another folder than the job that was opened, whose paths would "
                           "mean other files there",
                           "a name in " + here.string());
  write(document, file);
}

void JobText::write(Document& document, const fs::path& file) {
  std::string text = with(document);
  // Behind a link it is the file itself that gets the text.
  base::write_file_whole(fs::weakly_canonical(file), text);
  text_ = std::move(text);
  file_ = file;
  held_ = held_in(document.layouts());
  document.mark_saved();
}

}  // namespace calmplate::editing
