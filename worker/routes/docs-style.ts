/** How the page of documentation looks: the inks and papers of the sheet, and nothing that is fetched. */
export const DOCS_STYLE = `
:root { color-scheme: light dark; --paper: #fbf6ea; --raised: #fffdf7; --ink: #2b211a; --soft: #6a5a4b; --rule: #d9cdb8; --link: #1d5a80; --code: #f2ead9; --warn: #8d2334 }
@media (prefers-color-scheme: dark) { :root { --paper: #1a1512; --raised: #241d18; --ink: #efe4cf; --soft: #bcab94; --rule: #463a2f; --link: #8fc0de; --code: #2c241e; --warn: #f08d9a } }
* { box-sizing: border-box }
html { -webkit-text-size-adjust: 100%; scroll-padding-top: 12px }
body { margin: 0 auto; padding: 20px 16px 60px; max-width: 1100px; background: var(--paper); color: var(--ink); font: 16px/1.5 system-ui, sans-serif }
h1, h2, h3 { font-family: Georgia, 'Times New Roman', serif; line-height: 1.25; margin: 0 }
h1 { font-size: 1.9rem }
h2 { font-size: 1.35rem; margin: 44px 0 4px; padding-bottom: 6px; border-bottom: 2px solid var(--ink) }
h3 { font-size: 1.02rem; font-weight: 600 }
.head { display: flex; gap: 8px; font-family: ui-monospace, monospace; overflow-wrap: break-word }
.head > :last-child { min-width: 0 }
p { margin: 8px 0; max-width: 72ch }
a { color: var(--link); text-underline-offset: 2px }
a:focus-visible, summary:focus-visible { outline: 3px solid var(--link); outline-offset: 2px }
code, pre { font-family: ui-monospace, monospace; font-size: .86rem }
code { overflow-wrap: anywhere }
pre { margin: 8px 0; padding: 10px 12px; background: var(--code); border-radius: 4px; white-space: pre-wrap; overflow-wrap: anywhere }
.caution { margin: 14px 0; padding: 10px 14px; border-left: 4px solid var(--warn); background: var(--raised); max-width: none }
.caution p { max-width: none; margin: 2px 0 }
.soft, .type { color: var(--soft) }
nav ul { margin: 4px 0 16px; padding: 0; list-style: none; columns: 2 380px; column-gap: 28px }
nav li { padding: 4px 0; break-inside: avoid; font-size: .86rem }
nav h2 { margin-top: 20px }
nav h3 { margin-top: 14px; font-size: 1rem }
section.call { margin: 18px 0; padding: 14px 16px; background: var(--raised); border: 1px solid var(--rule); border-radius: 6px }
.method { flex: none; width: 4.2em; color: var(--soft) }
dl { margin: 8px 0; display: grid; grid-template-columns: minmax(90px, 150px) minmax(0, 1fr); gap: 6px 16px }
dt { color: var(--soft) }
dd { margin: 0; min-width: 0 }
dd ul { margin: 0; padding: 0; list-style: none }
table { width: 100%; border-collapse: collapse; margin: 6px 0; font-size: .92rem }
th, td { text-align: left; vertical-align: top; padding: 5px 12px 5px 0; border-top: 1px solid var(--rule); overflow-wrap: anywhere }
th { width: 34%; font-weight: 400 }
th i { display: block; color: var(--soft); font-size: .85rem }
details { margin: 6px 0; border-top: 1px solid var(--rule) }
summary { padding: 8px 0; cursor: pointer; font-family: ui-monospace, monospace; overflow-wrap: anywhere }
details > div { padding: 0 0 10px; scroll-margin-top: 56px }
details > :target { outline: 2px solid var(--link); outline-offset: 6px }
@media (max-width: 560px) { body { padding: 14px 12px 40px } section.call { padding: 12px } dl { grid-template-columns: 1fr; gap: 0 } dd { margin-bottom: 8px } th { width: 46% } }
@media print { section.call, details { break-inside: avoid } }
`;
