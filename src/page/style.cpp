// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/style.hpp"

namespace calmplate::page {
namespace {

// Colours: ink on white, one teal; every pair of text and ground has a contrast of 4.5 or more.
constexpr const char* kStyle = R"css(
:root{--ink:#17252c;--soft:#47575f;--rule:#c5d2d5;--pale:#edf4f3;--deep:#0d5560}
*{box-sizing:border-box}
html{font-size:100%;-webkit-text-size-adjust:100%}
body{margin:0 auto;padding:1rem;max-width:64rem;background:#fff;color:var(--ink);
font:1rem/1.5 system-ui,"DejaVu Sans",Verdana,sans-serif}
a{color:var(--deep)}
a:focus-visible,summary:focus-visible,[tabindex]:focus-visible,audio:focus-visible{
outline:3px solid var(--deep);outline-offset:2px}
.skip{position:absolute;left:-999rem}
.skip:focus{left:1rem;top:.5rem;background:#fff;padding:.3rem .6rem}
.top{border-bottom:3px solid var(--deep);padding-bottom:.6rem;margin-bottom:1.2rem}
.fitter{display:flex;gap:1rem;align-items:center;margin-bottom:1rem}
.fitter p{margin:0;color:var(--soft);overflow-wrap:anywhere}
.fitter .name{color:var(--ink);font-weight:700;font-size:1.1rem}
.logo{max-height:4rem;max-width:9rem}
h1{font-size:1.8rem;line-height:1.2;margin:0 0 .3rem;overflow-wrap:anywhere}
h2{font-size:1.25rem;margin:2rem 0 .6rem;color:var(--deep);break-after:avoid}
h3{font-size:1.05rem;margin:1.3rem 0 .4rem;break-after:avoid}
.customer{margin:0;color:var(--soft)}
.question{font-size:1.1rem;margin:.4rem 0 0;overflow-wrap:anywhere}
.answer{background:var(--pale);border-left:6px solid var(--deep);padding:.8rem 1rem;margin:0 0 1rem}
.answer h2{margin:0 0 .3rem}
.answer p{margin:.2rem 0}
.lead{font-size:1.2rem;font-weight:600}
.small{font-size:.9rem;color:var(--soft);margin:.4rem 0}
.printed{display:none}
.pair{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,21rem),1fr));gap:1rem 2rem}
.pair>*{min-width:0}
figure{margin:0 0 1rem;break-inside:avoid}
figcaption{margin-bottom:.3rem}
figcaption span{color:var(--soft);font-size:.9rem}
figure img{width:100%;height:auto;display:block}
.wide{overflow-x:auto;break-inside:avoid}
table{border-collapse:collapse;width:100%;font-size:.95rem}
caption{text-align:left;color:var(--soft);font-size:.9rem;padding-bottom:.3rem}
th,td{padding:.3rem .5rem;border-bottom:1px solid var(--rule);text-align:right;
font-variant-numeric:tabular-nums;vertical-align:top}
thead th{border-bottom:2px solid var(--ink);font-size:.88rem}
tbody th,thead th:first-child{text-align:left;font-weight:600}
tr.marked{background:var(--pale)}
.text td,.text th{text-align:left}
summary{cursor:pointer;color:var(--deep);padding:.3rem 0;font-size:.95rem}
.sounds{list-style:none;margin:0;padding:0}
.sounds li{display:flex;flex-wrap:wrap;gap:.3rem 1rem;align-items:center;padding:.3rem 0}
.sounds span{flex:1 1 9rem;font-weight:600;overflow-wrap:anywhere}
audio{flex:2 1 16rem;max-width:100%;height:2.6rem}
nav ul{columns:2;padding-left:1.1rem;margin:.3rem 0}
footer{border-top:1px solid var(--rule);margin-top:2rem;color:var(--soft);font-size:.85rem}
.chart{width:100%;height:auto;display:block;max-width:40rem}
.chart text{font:14px system-ui,"DejaVu Sans",Verdana,sans-serif;fill:var(--ink)}
.chart .name{font-weight:600;font-size:13px}
.chart .bandname{fill:var(--soft)}
.swatch{width:2rem;height:.7rem;vertical-align:middle}
.legend{list-style:none;padding:0;margin:.3rem 0;font-size:.9rem;display:flex;flex-wrap:wrap;gap:.2rem 1.2rem}
.grid{stroke:#dfe7e8;stroke-width:1}
.axis{stroke:var(--ink);stroke-width:1.2}
.band{fill:#f1efe4}
.mark{stroke:var(--ink);stroke-width:1.2;stroke-dasharray:3 3}
.ring{fill:none;stroke:var(--ink);stroke-width:2}
.curve,.key{fill:none;stroke-linejoin:round}
.c0{stroke:#17252c;stroke-width:1.6}
.c1{stroke:#0a64a8;stroke-width:2.4}
.c2{stroke:#a84300;stroke-width:2.4;stroke-dasharray:8 3}
.c3{stroke:#00695a;stroke-width:2.6;stroke-dasharray:2 3}
.c4{stroke:#76389b;stroke-width:2.4;stroke-dasharray:10 3 2 3}
.c5{stroke:#8b1a46;stroke-width:2.4;stroke-dasharray:5 2}
.d0{fill:#17252c}.d1{fill:#0a64a8}.d2{fill:#a84300}.d3{fill:#00695a}.d4{fill:#76389b}.d5{fill:#8b1a46}
.chart .n1{fill:#0a64a8}.chart .n2{fill:#a84300}.chart .n3{fill:#00695a}
.chart .n4{fill:#76389b}.chart .n5{fill:#8b1a46}
@page{size:A4;margin:13mm}
@media print{
html{font-size:9.5pt}
.modes table{font-size:7.6pt}
.modes th,.modes td{padding:.25mm 1.5mm}
body{padding:0;max-width:none;font-size:9.5pt;-webkit-print-color-adjust:exact;print-color-adjust:exact}
audio,nav,.skip,.screen{display:none}
.printed{display:block}
.pair{grid-template-columns:1fr 1fr;gap:3mm 7mm}
.sounds{display:none}
h2{margin-top:6mm}
p,li{orphans:3;widows:3}
.wide{overflow:visible}
figure details,summary{display:none}
details::details-content{content-visibility:visible;height:auto;display:block}
tr{break-inside:avoid}
.long{break-inside:auto}
}
)css";

// The customer's page: everything a little smaller, so that it fits on one sheet of paper.
constexpr const char* kOnePage = R"css(
.pair>figure>figcaption strong{display:block;font-size:1.25rem;margin:2rem 0 .4rem;color:var(--deep)}
.maps>figure>figcaption strong{font-size:1rem;margin:0 0 .3rem;color:var(--ink)}
@media print{
@page{margin:8mm 12mm}
html{font-size:8.6pt}
body{font-size:8.6pt;line-height:1.35}
h1{font-size:15pt}
h2,.pair>figure>figcaption strong{font-size:10.5pt;margin:2mm 0 .6mm}
.maps>figure>figcaption strong{font-size:8.6pt;margin:0 0 .6mm}
body{display:flex;flex-direction:column;min-height:274mm}
main{flex:1;display:flex;flex-direction:column;justify-content:space-between}
.top{padding-bottom:1mm;margin-bottom:2mm}
.fitter{margin-bottom:1.5mm}
.logo{max-height:13mm}
.question{font-size:10pt;margin:.6mm 0 0}
.lead{font-size:11pt}
.answer{padding:1.6mm 3mm;margin:0 0 1.5mm}
.small{font-size:7.6pt;margin:.6mm 0}
table{font-size:8.2pt}
caption,thead th{font-size:7.6pt}
th,td{padding:.5mm 2mm}
figure{margin:0}
.maps img{max-height:46mm;width:auto;max-width:100%}
.chart{max-height:42mm}
.legend{margin:0;font-size:7.6pt}
p{margin:.6mm 0}
ul{margin:.6mm 0;padding-left:4mm}
footer{margin-top:1mm;font-size:7pt}
footer p{display:inline;margin-right:3mm}
section.sounds-part h2{display:none}
}
)css";

}  // namespace

std::string style_sheet(bool one_page) { return std::string(kStyle) + (one_page ? kOnePage : ""); }

}  // namespace calmplate::page
