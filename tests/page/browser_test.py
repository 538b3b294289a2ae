# SPDX-License-Identifier: GPL-3.0-or-later
"""Both pages of a small real job in a browser without a window.

browser_test.py CALMPLATE CHROMIUM CHROMEDRIVER FOLDER

Runs a job, opens both pages at the width of a phone and of a desk, and prints them. Looks for: an
empty console, no request but for the file itself and what is inside it, no sideways scrolling, sounds
that load, a customer's page of one sheet of A4, figures as in results.json, and that people who do
not see, or use no mouse, get all of it: contrast, headings, names, labels, order of focus.
Source: [practice] common practice, no source; the contrast of 4.5 is [memory] of WCAG 2, criterion
1.4.3, with its formula of relative luminance.
"""
import base64
import json
import os
import pathlib
import shutil
import struct
import subprocess
import sys
import time
import zlib

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

JOB = """
[job]
title = "Small door (invented)"
note = "Invented for a test; no car was measured for it."

[panel]
outline_mm = [[0, 0, 40], [600, 0, 40], [620, 380, 30], [0, 360, 30]]
element_mm = 30
thickness_mm = 0.7
loss_factor = 0.01
crown_radius_up_m = 2.5
crown_radius_along_m = 9

[[panel.edge]]
part = "rim"
hold = "pinned"

[[sheet]]
name = "butyl 2 mm, foil 0.1"
shelf = "butyl 2 mm"
price_per_sheet = 9
stock_width_mm = 500
stock_length_mm = 750

[[sheet]]
name = "bitumen 2 mm"
shelf = "bitumen 2 mm"

[[keep_out]]
name = "handle"
centre_mm = [520, 300]
size_mm = [100, 60]

[[layout]]
name = "two blocks"

[[layout.piece]]
sheet = "butyl 2 mm, foil 0.1"
centre_mm = [200, 180]
size_mm = [200, 150]

[[layout.piece]]
sheet = "butyl 2 mm, foil 0.1"
centre_mm = [420, 140]
size_mm = [150, 120]

[[layout]]
name = "full"

[[layout.piece]]
sheet = "butyl 2 mm, foil 0.1"
everywhere = true
margin_mm = 20

[[layout]]
name = "placed by search for least weight"

[layout.place]
sheet = "butyl 2 mm, foil 0.1"
sizes_mm = [[150, 120]]
spacing_mm = 100
pieces = 3

[sheet_comparison]
layout = "two blocks"

[woofer]
fs_Hz = 55
Qms = 5
Qes = 0.6
Re_ohm = 3.4
Sd_cm2 = 130
Mms_g = 14
Xmax_mm = 5

[amplifier]
voltage_V = 8

[cavity]
volume_l = 25
leak_area_cm2 = 30

[filter]
low_pass_Hz = 200

[band]
low_Hz = 50
high_Hz = 200
step_Hz = 1

[[listen_at]]
name = "wiring clip"
at_mm = [300, 250]
holds_g = 8
preload_N = 0.4

[conditions]
temperatures_C = [0, 20, 40]

[unknowns]
thickness_mm = [0.65, 0.75]
samples = 3

[report]
fitter = "Quiet Doors & Sons (invented)"
contact = "12 Example Lane, telephone 0123 456789, quiet.doors at example"
logo = "logo.png"
car = "Small hatchback of 1998, left front door, with the large woofer"
customer = "A. Customer"
question = "Why does my door drone on low notes, and what does it cost to stop that?"
"""

# In the page: what a person who sees badly, or uses the keyboard, would miss. Returns sentences.
CHECKS = r"""
const faults = [];
const luminance = c => {
  const part = v => { v /= 255; return v <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4); };
  return 0.2126 * part(c[0]) + 0.7152 * part(c[1]) + 0.0722 * part(c[2]);
};
const colour = text => (text.match(/[\d.]+/g) || []).map(Number);
const ground = e => {
  for (; e; e = e.parentElement) {
    const c = colour(getComputedStyle(e).backgroundColor);
    if (c.length === 3 || (c.length === 4 && c[3] === 1)) return c;
  }
  return [255, 255, 255];
};
let texts = 0;
for (const e of document.querySelectorAll('body *')) {
  const own = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
  if (!own || e.closest('title,desc,style')) continue;
  const style = getComputedStyle(e);
  if (style.display === 'none' || style.visibility === 'hidden') continue;
  const svg = e.closest('svg');
  const ink = colour(svg ? style.fill : style.color);
  // The shaded band is the darkest ground that words in a chart stand on.
  const back = svg ? colour(getComputedStyle(svg.querySelector('.band') || svg).fill) : ground(e);
  const [a, b] = [luminance(ink), luminance(svg && svg.querySelector('.band') ? back : ground(e))];
  const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  if (contrast < 4.5) faults.push(`contrast ${contrast.toFixed(2)} of "${e.textContent.slice(0, 40)}"`);
  const box = e.getBoundingClientRect();
  if (!svg && box.width > 0 && parseFloat(style.fontSize) < 12)
    faults.push(`letters of ${style.fontSize}: "${e.textContent.slice(0, 40)}"`);
  ++texts;
}
if (texts < 30) faults.push(`only ${texts} texts were looked at`);
if (!document.documentElement.lang) faults.push('the page names no language');
if (!document.title) faults.push('the page has no title');
let last = 0;
const heads = [...document.querySelectorAll('h1,h2,h3,h4,h5,h6')];
for (const h of heads) {
  const level = Number(h.tagName[1]);
  if (level > last + 1) faults.push(`heading of level ${level} after ${last}: ${h.textContent}`);
  if (!h.textContent.trim()) faults.push('an empty heading');
  last = level;
}
if (heads.filter(h => h.tagName === 'H1').length !== 1) faults.push('not one heading of level 1');
const ids = [...document.querySelectorAll('[id]')].map(e => e.id);
if (new Set(ids).size !== ids.length) faults.push('an id stands twice');
for (const e of document.querySelectorAll('[aria-labelledby]'))
  for (const id of e.getAttribute('aria-labelledby').split(' '))
    if (!document.getElementById(id)) faults.push(`a label ${id} that is not there`);
for (const i of document.querySelectorAll('img'))
  if (!i.alt || !i.complete || !i.naturalWidth) faults.push(`a picture without words or without itself`);
for (const s of document.querySelectorAll('svg:not([aria-hidden])'))
  if (!s.querySelector('title').textContent || !s.querySelector('desc').textContent)
    faults.push('a chart without title or description');
for (const f of document.querySelectorAll('figure'))
  if (f.querySelector('svg.chart') && !f.querySelector('details table'))
    faults.push('a chart without its figures as a table');
for (const t of document.querySelectorAll('table')) {
  if (!t.caption || !t.caption.textContent.trim()) faults.push('a table without a caption');
  for (const h of t.querySelectorAll('th')) if (!h.scope) faults.push('a table head without scope');
  for (const r of t.querySelectorAll('tbody tr'))
    if (r.cells.length !== t.tHead.rows[0].cells.length) faults.push(`a ragged row in "${t.caption.textContent}"`);
}
for (const c of document.querySelectorAll('a[href],summary,audio,[tabindex]')) {
  if (c.tabIndex < 0) faults.push(`not on the keyboard: ${c.outerHTML.slice(0, 60)}`);
  if (c.tabIndex > 0) faults.push('an order of focus of its own');
}
for (const a of document.querySelectorAll('a[href^="#"]'))
  if (!document.querySelector(a.getAttribute('href'))) faults.push(`a link to nowhere: ${a.href}`);
if (!document.querySelector('main') || document.querySelectorAll('main').length !== 1) faults.push('not one main part');
return faults;
"""

failures = []


def check(good, words):
    print(("ok    " if good else "FAULT ") + words)
    if not good:
        failures.append(words)


def png(width, height):
    """A picture in two colours as bytes."""
    rows = b"".join(
        b"\0" + b"".join(b"\x0d\x55\x60" if (x // 20 + y // 20) % 2 else b"\xed\xf4\xf3" for x in range(width))
        for y in range(height)
    )

    def chunk(kind, body):
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def run_job(program, folder):
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    (folder / "logo.png").write_bytes(png(160, 80))
    subprocess.run([program, "run", "job.toml", "-o", "out", "--quiet"], cwd=folder, check=True)
    return folder / "out"


def open_browser(chromium, driver, folder):
    options = Options()
    options.binary_location = chromium
    profile = folder / "profile"
    for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
                 "--force-renderer-accessibility", "--mute-audio", f"--user-data-dir={profile}"):
        options.add_argument(word)
    options.set_capability("goog:loggingPrefs", {"performance": "ALL", "browser": "ALL"})
    return webdriver.Chrome(service=Service(driver), options=options)


def requests_of(browser):
    for entry in browser.get_log("performance"):
        message = json.loads(entry["message"])["message"]
        if message["method"] == "Network.requestWillBeSent":
            yield message["params"]["request"]["url"]


def check_names(browser, words):
    """The browser's whole accessibility tree: whatever has a role that needs a name has one."""
    nodes = browser.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
    needed = {"image", "img", "button", "link", "table", "Audio", "slider", "region", "navigation", "heading",
              "DisclosureTriangle", "columnheader", "rowheader"}
    nameless = [
        node["role"]["value"]
        for node in nodes
        if not node.get("ignored") and node.get("role", {}).get("value") in needed
        and not node.get("name", {}).get("value", "").strip()
    ]
    seen = sum(1 for node in nodes if node.get("role", {}).get("value") in needed)
    check(seen > 20, f"{words}: {seen} parts of the accessibility tree looked at")
    check(not nameless, f"{words}: every part that needs a name has one {nameless}")


def look(browser, page, width, words):
    browser.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride",
        {"width": width, "height": 844, "deviceScaleFactor": 1, "mobile": width < 500},
    )
    list(requests_of(browser))
    browser.get(page.as_uri())
    # A sound's length is known once its head has been read.
    for _ in range(100):
        lengths = browser.execute_script("return [...document.querySelectorAll('audio')].map(a => a.duration)")
        if all(length and length > 0 for length in lengths):
            break
        time.sleep(0.1)
    check(len(lengths) == 4 and all(length and 1.5 < length < 1.7 for length in lengths),
          f"{words}: sounds load, s: {lengths}")
    wide = browser.execute_script("return document.documentElement.scrollWidth")
    check(wide <= width, f"{words}: {wide} of {width} px wide")
    faults = browser.execute_script(CHECKS)
    check(not faults, f"{words}: own checks in the page {faults}")
    opened = browser.execute_script(
        "document.querySelectorAll('details').forEach(d => d.open = true);"
        "return document.documentElement.scrollWidth")
    check(opened <= width, f"{words}: {opened} of {width} px wide with all tables open")
    faults = browser.execute_script(CHECKS)
    check(not faults, f"{words}: own checks with all tables open {faults}")
    check_names(browser, words)
    away = [url[:80] for url in requests_of(browser) if not url.startswith(("file:", "data:"))]
    check(not away, f"{words}: no request to anywhere {away}")
    log = [entry["message"] for entry in browser.get_log("browser")]
    check(not log, f"{words}: the console is empty {log}")
    shot = browser.execute_cdp_cmd("Page.captureScreenshot", {"format": "png", "captureBeyondViewport": True})
    page.with_name(f"{page.stem}_{width}.png").write_bytes(base64.b64decode(shot["data"]))


def pages_in_print(browser, page):
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    browser.get(page.as_uri())
    sheet = browser.execute_cdp_cmd(
        "Page.printToPDF",
        {"printBackground": True, "paperWidth": 8.27, "paperHeight": 11.69, "preferCSSPageSize": True},
    )
    file = page.with_suffix(".pdf")
    file.write_bytes(base64.b64decode(sheet["data"]))
    info = subprocess.run(["pdfinfo", file], capture_output=True, text=True, check=True).stdout
    size = next(line for line in info.splitlines() if line.startswith("Page size"))
    check("A4" in size, f"{page.name}: printed on {size.split(':')[1].strip()}")
    return int(next(line for line in info.splitlines() if line.startswith("Pages")).split(":")[1])


def check_figures(browser, page, results):
    """The table of choices against results.json, as the person sees it."""
    browser.get(page.as_uri())
    rows = browser.execute_script(
        "return [...document.querySelector('#options table').tBodies[0].rows].map("
        "r => [...r.cells].map(c => c.textContent))")
    check(len(rows) == len(results["layouts"]), f"{page.name}: {len(rows)} choices")
    for row, layout in zip(rows, results["layouts"]):
        stock, cost = layout["stock_sheets"], layout["cost"]
        bare = not layout["pieces"]
        wanted = [
            f"{layout['band_reduction_db']:.1f}",
            f"{layout['mass_kg']:.2f}",
            f"{100 * layout['share']:.0f}",
            "–" if bare or stock is None else f"{stock:.1f}",
            "–" if cost == 0 else f"{cost:.2f}",
        ]
        check(row[1:] == wanted, f"{page.name}: {row} as in results.json")


def main():
    program, chromium, driver, work = sys.argv[1:5]
    folder = pathlib.Path(work).resolve()
    out = run_job(program, folder)
    results = json.loads((out / "results.json").read_text(encoding="utf-8"))
    browser = open_browser(chromium, driver, folder)
    try:
        for name, most in (("customer.html", 1), ("report.html", 12)):
            page = out / name
            print(f"{name}: {page.stat().st_size / 1024:.0f} kB")
            for width in (390, 1280):
                look(browser, page, width, f"{name} at {width} px")
            check_figures(browser, page, results)
            count = pages_in_print(browser, page)
            check(count <= most, f"{name}: {count} printed pages, at most {most}")
    finally:
        browser.quit()
        shutil.rmtree(folder / "profile", ignore_errors=True)
    print(f"{len(failures)} faults")
    return 1 if failures else 0


if __name__ == "__main__":
    os.environ.pop("DISPLAY", None)
    sys.exit(main())
