/**
 * The style of the printable page: paper, ink, thin rules, one accent. The page's security policy names
 * it by its hash, so that nothing else can style the page; change both together (a test compares them).
 */
export const PAGE_STYLE = `
:root { color-scheme: light dark; --paper: #fdfbf4; --ink: #1d1b18; --rule: #1d1b1855; --faint: #5d584f; --accent: #9c2f24; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #171614; --ink: #e9e5da; --rule: #e9e5da55; --faint: #aaa497; --accent: #e0786b; }
}
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 52rem; padding: 2.5rem 1.5rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.45 "Iowan Old Style", "Palatino Linotype", Palatino, "Book Antiqua", Georgia, serif; }
h1 { margin: 0 0 .2rem; font-size: 1.6rem; font-weight: normal; line-height: 1.2; overflow-wrap: anywhere; }
h2 { margin: 2.2rem 0 .6rem; padding-top: .4rem; border-top: 1px solid var(--rule); font-size: 1rem;
  font-weight: normal; letter-spacing: .06em; text-transform: uppercase; }
h2 b { display: inline-block; width: 1.8rem; font-weight: normal; }
p { margin: .3rem 0; max-width: 40rem; }
.wide { overflow-x: auto; margin: 0 0 1rem; }
table { border-collapse: collapse; font-size: .875rem; font-variant-numeric: lining-nums tabular-nums; }
caption { padding-bottom: .3rem; color: var(--faint); text-align: left; font-style: italic; }
th, td { padding: .1rem .35rem; font-weight: normal; text-align: right; white-space: pre; }
th[scope=row], tr > .left { text-align: left; }
th[scope=row] { padding-left: 0; padding-right: .9rem; }
th[scope=colgroup] { text-align: left; font-style: italic; }
td.first, th.first { padding-left: 1.4rem; }
tr.head > :first-child { padding-left: 0; }
tr.head th { color: var(--faint); font-size: .8rem; }
tbody { border-top: 1px solid var(--rule); }
tbody + tbody::before { content: ""; display: block; height: .4rem; }
tr.sub + tr.main > * { padding-top: .25rem; }
tr.sub { color: var(--faint); }
td.look { color: var(--accent); }
figure { margin: 0; }
figure svg { display: block; width: 100%; height: auto; }
footer { margin-top: 2.5rem; padding-top: .5rem; border-top: 1px solid var(--rule); color: var(--faint); font-size: .8rem; }
@page { size: A4; margin: 16mm 15mm; }
@media print {
  :root { color-scheme: light; --paper: #fff; --ink: #000; --rule: #0006; --faint: #444; --accent: #8a1f15; }
  body { max-width: none; padding: 0; font-size: 10pt; }
  h2, caption, thead { break-after: avoid; }
  tr, figure, footer { break-inside: avoid; }
  .wide { overflow: visible; }
  table { font-size: 8.5pt; }
}
`;

export const PAGE_STYLE_HASH = "sha256-SX2XKoGA5b8zAihgTOSUHEdiNf8APA7kClspNFx8OSM=";
