# SPDX-License-Identifier: GPL-3.0-or-later
# Which folder of src may include what. The order is that of the program's making: a folder sees only
# folders above it. An entry with a slash is one header; an entry without is a whole folder. Whoever
# needs a new line here says why in the commit.
set(folders
    base panel mesh_io sheet shell modes cavity reduced drive response coupling placement
    cutting job study report page editing picture app window)

set(may_see_base)
set(may_see_panel base)
set(may_see_mesh_io base panel)
set(may_see_sheet base)
set(may_see_shell base panel sheet)
set(may_see_modes base)
set(may_see_cavity base panel modes)
set(may_see_reduced base panel sheet shell modes cavity)
set(may_see_drive base cavity)
set(may_see_response base panel shell modes cavity reduced drive)
set(may_see_coupling base panel shell modes cavity reduced drive response)
set(may_see_placement base panel sheet shell modes cavity reduced drive response coupling)
set(may_see_cutting base panel sheet placement)
# The job file fills input structs and must not pull in what computes with them; but for the band,
# which is the woofer's own unless the job gives one.
set(may_see_job base panel sheet shell/hold_input.hpp drive cutting/cutting_input.hpp)
set(may_see_study base panel sheet shell modes cavity reduced drive response coupling placement
                    cutting job)
set(may_see_report base panel mesh_io sheet shell modes cavity reduced drive response coupling
                     placement cutting job study)
# The page reads result files, so it needs nothing that computes.
set(may_see_page base)
# What a window edits and asks, without the window: no toolkit, no rendering.
set(may_see_editing base panel mesh_io sheet shell modes cavity reduced drive response coupling
                      placement cutting job study report)
# The drawing program reads result files, so it needs nothing that computes.
set(may_see_picture base)
# Rendering stays out of the main program, so app does not see picture.
set(may_see_app base panel mesh_io sheet shell modes cavity reduced drive response coupling placement
                cutting job study report page)

# The window edits and asks the live bench; it reads a job as the commands do, and takes the colours
# of the pictures.
set(may_see_window base panel job drive sheet placement study editing picture app/load_job.hpp)

# Outside headers that only the folders named may use: "beginning of the header|folder,folder".
# A library's door is one folder, so that it can be replaced there. <iostream>: the library does not
# print.
set(doors
    "vtk|mesh_io,picture,window"
    "Q|window"
    "CGAL/|panel,mesh_io"
    "ceres|sheet"
    "Spectra/|modes"
    "cholmod|modes"
    "lapacke|modes"
    "toml|job"
    "CLI/|app"
    "nlohmann/|report,page,picture"
    "EGL/|picture"
    "sndfile|page"
    "cairo|cutting"
    "iostream|app,picture")
