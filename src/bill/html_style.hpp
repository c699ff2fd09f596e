#pragma once

namespace kp::bill {

/// The style sheet of the papers in HTML; a table of text, for html.cpp only.
inline constexpr const char* kHtmlStyle = R"css(
:root { --ink:#1B2126; --muted:#5C5A54; --line:#C9C2B4; --tint:#F6F3EC; }
* { box-sizing:border-box; }
html { background:#E9E5DB; color:var(--ink); -webkit-text-size-adjust:100%; }
body { margin:0; font:16px/1.45 B612,Helvetica,Arial,sans-serif;
  -webkit-print-color-adjust:exact; print-color-adjust:exact; }
main { max-width:50rem; margin:0 auto; background:#fff; padding:1.5rem 1.25rem 2.5rem; }
.n { font-family:"B612 Mono","DejaVu Sans Mono",Menlo,Consolas,monospace; font-variant-numeric:tabular-nums; }
p, h1, h2, h3, dl, table { margin:0; }
header { border-bottom:2px solid var(--ink); padding-bottom:1rem; }
.shop { display:flex; flex-wrap:wrap; justify-content:space-between; gap:.25rem 2rem; }
.shop strong { font-size:1.125rem; }
.shop p { color:var(--muted); font-size:.8125rem; text-align:right; }
h1 { font-size:1.75rem; line-height:1.2; margin-top:1.5rem; }
h1 .n { font-weight:400; font-size:1.25rem; margin-left:.5rem; white-space:nowrap; }
.facts { display:flex; flex-wrap:wrap; gap:.5rem 2rem; margin-top:.75rem; }
.facts dt, .two h3 { color:var(--muted); font-size:.8125rem; font-weight:400; }
.facts dd { margin:0; }
h2 { font-size:1rem; margin-top:1.75rem; break-after:avoid; }
p { white-space:pre-line; overflow-wrap:anywhere; margin-top:.4rem; orphans:3; widows:3; }
.small { color:var(--muted); font-size:.8125rem; }
.strong { font-weight:700; }
.notice { border:1px solid var(--ink); border-left-width:5px; padding:.6rem .8rem; font-weight:700; margin-top:1rem;
  break-inside:avoid; }
.two { display:flex; flex-wrap:wrap; gap:1rem 2rem; margin-top:1.25rem; }
.two > div { flex:1 1 14rem; min-width:0; overflow-wrap:anywhere; break-inside:avoid; }
.two strong, .two span { display:block; }
table { width:100%; border-collapse:collapse; margin-top:1rem; }
h2 + table { margin-top:.4rem; }
thead { display:table-header-group; }
tr { break-inside:avoid; }
th { text-align:left; color:var(--muted); font-size:.8125rem; font-weight:400; padding:.3rem 0; vertical-align:bottom; }
thead tr { border-bottom:1px solid var(--ink); }
tbody tr { border-bottom:1px solid var(--line); }
td { padding:.5rem 0; vertical-align:top; overflow-wrap:break-word; }
td:first-child { overflow-wrap:anywhere; }
.dense td { padding-top:.25rem; padding-bottom:.25rem; }
td + td, th + th { padding-left:.75rem; }
td.r, th.r { text-align:right; }
td.n { white-space:pre; overflow-wrap:normal; }
td small { display:block; color:var(--muted); font-size:.8125rem; }
.sums { margin:.25rem 0 0 auto; width:min(100%,26rem); break-inside:avoid; }
.sums tr { border:0; }
.sums td { padding-top:.25rem; padding-bottom:.25rem; }
.sums td small { display:inline; margin-left:.5rem; }
.sums .due td { font-weight:700; font-size:1.25rem; border-top:2px solid var(--ink); padding-top:.5rem; }
.bar { display:flex; gap:2px; height:1.4rem; margin-top:.6rem; break-inside:avoid; }
.bar i { border-radius:2px; min-width:2px; }
.legend { display:flex; flex-wrap:wrap; gap:.2rem 1.25rem; margin-top:.4rem; color:var(--muted); font-size:.8125rem; }
.legend i { display:inline-block; width:.75rem; height:.75rem; border-radius:2px; margin-right:.4rem; vertical-align:-.06rem; }
.own { outline:1px solid var(--line); outline-offset:-1px; }
.sign { margin-top:2rem; max-width:24rem; break-inside:avoid; }
.sign svg { display:block; width:100%; }
.sign .rule { border-top:1px solid var(--ink); padding-top:.25rem; display:flex; justify-content:space-between; gap:1rem; }
.sign .rule span { color:var(--muted); font-size:.8125rem; }
.panel { border:2px solid var(--ink); margin-top:1.25rem; padding:1rem; break-inside:avoid; }
.panel .top { display:flex; gap:1rem; align-items:center; }
.panel svg { flex:none; width:5.5rem; height:5.5rem; }
.panel h2 { font-size:1.625rem; line-height:1.15; margin:0; }
.panel dl { display:grid; grid-template-columns:max-content 1fr; gap:.15rem 1rem; margin-top:.75rem; }
.panel dt { color:var(--muted); font-size:.8125rem; line-height:1.8; }
.panel dd { margin:0; overflow-wrap:anywhere; }
.panel p { font-weight:700; }
.warning .top { background:#D05D29; margin:-1rem -1rem 0; padding:.5rem 1rem; border-bottom:2px solid var(--ink); }
.warning svg { width:3rem; height:3rem; }
.tag { border:2px dashed var(--ink); padding-top:2.75rem; position:relative; }
.tag::before { content:""; position:absolute; left:50%; top:.8rem; width:1.2rem; height:1.2rem; margin-left:-.6rem;
  border:1px solid var(--ink); border-radius:50%; }
footer { margin-top:2rem; border-top:1px solid var(--line); padding-top:.4rem; color:var(--muted); font-size:.8125rem; }
@media screen and (max-width:40rem) {
  col { width:auto !important; }
  .shop p { text-align:left; }
  td + td, th + th { padding-left:.6rem; }
  .stacks thead { position:absolute; clip-path:inset(50%); }
  .stacks, .stacks tbody { display:block; }
  .stacks tbody { border-top:1px solid var(--ink); }
  .stacks tr { display:flex; flex-wrap:wrap; justify-content:space-between; gap:.1rem 1rem; padding:.35rem 0; }
  .stacks td { padding:0; text-align:left; }
  .stacks td:first-child { flex:1 0 100%; }
  .stacks td + td::before { content:attr(data-title); display:block; color:var(--muted);
    font:400 .8125rem/1.4 B612,Helvetica,Arial,sans-serif; }
}
@media (min-width:48rem) { main { padding:2.5rem 3rem; margin:1.5rem auto; } }
@page { margin:16mm 17mm 18mm; }
@media print {
  html { background:none; font-size:9.5pt; }
  body { font-size:1rem; }
  main { max-width:none; margin:0; padding:0; }
}
)css";

}  // namespace kp::bill
