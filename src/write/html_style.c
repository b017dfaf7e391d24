/* The style of job.html. SPDX-License-Identifier: MIT
 *
 * One column on a narrow screen and on paper, more of them beside each other where there is room. Colours are
 * pairs of ink and ground with a contrast of 4.5 or more, 3 for rims (WCAG 2.2, 1.4.3 and 1.4.11). */
#include "write/html_out.h"

static const char *const style[] = {
    ":root{color-scheme:light dark;--ground:#f6f4ef;--card:#fff;--ink:#1c1b20;--quiet:#57545f;--rim:#8b8693;",
    "--line:#d9d5cc;--link:#0a4f96;--go:#17653a;--change:#7e4a00;--no:#9c1f1f;--on:#fff}",
    "@media(prefers-color-scheme:dark){:root{--ground:#17161a;--card:#222126;--ink:#efedf2;--quiet:#b9b5c2;",
    "--rim:#8d8896;--line:#3b3942;--link:#9cc8ff;--go:#7fd6a2;--change:#f2bd6b;--no:#ff9d95;--on:#17161a}}",
    "*{box-sizing:border-box}",
    "html{font:100%/1.5 system-ui,-apple-system,'Segoe UI',Roboto,'DejaVu Sans',sans-serif}",
    "body{margin:0;background:var(--ground);color:var(--ink);overflow-wrap:anywhere}",
    "header,main,footer{max-width:120rem;margin:0 auto;padding:0 clamp(.9rem,2.5vw,3rem)}",
    "header{padding-top:1.5rem;padding-bottom:1rem}footer{padding-bottom:2rem;color:var(--quiet)}footer "
    "p{max-width:60rem}",
    "h1{font-size:clamp(1.5rem,1.2rem + 1.6vw,2.4rem);line-height:1.2;margin:.4rem 0}",
    "h2{font-size:1.15rem;line-height:1.3;margin:0 0 .6rem}",
    "p{margin:.4rem 0}a{color:var(--link)}ul,ol,dl{margin:.4rem 0;padding:0}",
    "a:focus-visible,input:focus-visible{outline:3px solid var(--link);outline-offset:2px}",
    ".verdict{font-size:1.1rem;display:flex;flex-wrap:wrap;gap:.3rem .8rem;align-items:center;margin:0}",
    ".word{font-weight:700;letter-spacing:.04em;padding:.1em .8em;border-radius:99px;color:var(--on)}",
    ".go .word{background:var(--go)}.change .word{background:var(--change)}.no .word{background:var(--no)}",
    ".quiet{color:var(--quiet)}",
    "section{background:var(--card);border:1px solid var(--line);border-radius:.7rem;",
    "padding:1rem clamp(.8rem,2vw,1.4rem);margin:0 0 1rem;break-inside:avoid}",
    ".both{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,15rem),1fr));gap:1rem}",
    ".look{display:grid;gap:1rem 2rem}.look>div{min-width:0}",
    ".words{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,18rem),1fr));gap:.5rem 2rem;",
    "align-content:start}",
    "@media(min-width:64rem){.look{grid-template-columns:minmax(0,2fr) minmax(18rem,1fr)}}",
    "figure{margin:0}figcaption{color:var(--quiet);font-size:.92rem;margin-top:.3rem}",
    ".paper{background:#fff;border:1px solid var(--line);border-radius:.5rem;padding:.6rem;display:flex;",
    "justify-content:center;align-items:center;aspect-ratio:1}",
    ".paper svg{display:block;width:100%;height:100%;overflow:visible}",
    ".halo{fill:none;stroke:#fff;stroke-width:8;stroke-opacity:.9}",
    ".ring{fill:none;stroke:#18181c;stroke-width:3.5}",
    ".badge circle{fill:#18181c;stroke:#fff;stroke-width:3}",
    ".badge text{fill:#fff;font-weight:700;font-size:30px;text-anchor:middle}",
    "h3{font-size:1rem;line-height:1.3;margin:1rem 0 .3rem}.words h3{margin-top:0}",
    "#show{width:1.5rem;height:1.5rem;margin:.2rem .4rem .6rem 0;vertical-align:middle;",
    "accent-color:var(--link)}.switch{display:inline-block;margin-bottom:.6rem;min-height:24px;",
    "vertical-align:middle;cursor:pointer}",
    "#show:not(:checked)~.look .marks{display:none}",
    ".places{padding-left:1.6rem}.places li{margin:.25rem 0}",
    ".true{display:flex;flex-wrap:wrap;gap:1rem 8mm;align-items:center}",
    ".true .ends{background:#fff;border:1px solid var(--line);border-radius:.5rem;padding:3mm;display:flex;",
    "flex-wrap:wrap;gap:5mm}.true svg{display:block;flex:none;overflow:visible}",
    ".rule{stroke:var(--ink);fill:none;stroke-width:.25}.rule "
    "text{stroke:none;fill:var(--ink);font-size:2.9px}",
    ".cards{columns:26rem;column-gap:1rem;margin-top:1rem}",
    ".rows{display:grid;grid-template-columns:max-content 1fr;gap:.3rem 1rem}.rows "
    "dt{font-weight:600;grid-column:1}",
    ".rows dd{margin:0;min-width:0;grid-column:2}",
    "@media(max-width:30rem){.rows{grid-template-columns:1fr;gap:0}.rows "
    "dd{margin-bottom:.5rem;grid-column:1}}",
    ".list{list-style:none}.list>li{padding:.45rem 0;border-top:1px solid var(--line)}",
    ".list>li:first-child{border-top:0}",
    ".tag{font-weight:700;margin-right:.5rem}.go>.tag{color:var(--go)}.change>.tag{color:var(--change)}",
    ".no>.tag{color:var(--no)}",
    ".fine{columns:14rem;column-gap:1.5rem;padding-left:1.1rem;color:var(--quiet);font-size:.92rem}",
    ".fine li{break-inside:avoid}",
    "code{font:.92em/1.5 ui-monospace,'DejaVu Sans Mono',Menlo,Consolas,monospace;background:var(--ground);",
    "padding:.1em .4em;border-radius:.3em;-webkit-box-decoration-break:clone;box-decoration-break:clone}",
    ".ink{display:flex;gap:.8rem;align-items:center}.ink svg{flex:none}.ink div{min-width:0}",
    ".swatch{stroke:var(--rim)}.arrow{fill:none;stroke:var(--ink);stroke-width:2}",
    "table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}",
    "th,td{text-align:left;padding:.3rem .6rem .3rem 0;border-top:1px solid var(--line);vertical-align:top}",
    "thead th{border-top:0;color:var(--quiet);font-weight:600;font-size:.92rem}",
    "th,td{overflow-wrap:normal}tbody "
    "th{font-weight:600;overflow-wrap:anywhere;min-width:4rem}",
    "td.number{white-space:nowrap}",
    ".number{text-align:right;padding-right:0;padding-left:.6rem}",
    ".letter{border-left:4px solid var(--line);padding-left:1rem}",
    "dt a,.list a{font-weight:600}",
    "@page{margin:14mm}",
    "@media print{:root{color-scheme:light;--ground:#fff;--card:#fff;--ink:#000;--quiet:#444;--rim:#777;",
    "--line:#bbb;--link:#000;--go:#17653a;--change:#7e4a00;--no:#9c1f1f;--on:#fff}",
    "html{font-size:10pt}header,main,footer{max-width:none;padding:0}main{padding:0 "
    "1px}header{padding-bottom:4mm}.switch,#show{"
    "display:none}",
    ".pairs{columns:2;column-gap:8mm}.list>li{padding:.25rem 0}",
    "*{-webkit-print-color-adjust:exact;print-color-adjust:exact}",
    ".look{grid-template-columns:1fr}.both{grid-template-columns:repeat(2,minmax(0,1fr))}section{border-"
    "radius:0;",
    "padding:0 0 3mm;border:0;border-bottom:1px solid var(--line)}.cards{columns:auto}",
    "section{break-inside:auto}h2,h3{break-after:avoid}li,tr,.both,.true{break-inside:avoid}p{orphans:2;"
    "widows:2}}",
};

void html_style(FILE *file) {
    for (size_t i = 0; i < sizeof style / sizeof *style; i++) fprintf(file, "%s\n", style[i]);
}
