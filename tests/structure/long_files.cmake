# SPDX-License-Identifier: GPL-3.0-or-later
# Files that may be longer than 400 lines (headers: 200), each as "path|lines allowed|reason".
set(longest_source 400)
set(longest_header 200)
set(long_files)
