"""The style sheet of a panel: fixed heights, so that nothing jumps; the colours of the page's own theme."""

from __future__ import annotations

from vanwater.figures.drawing import DARK_STYLE, HOVER_STYLE
from vanwater.panels.asleep import ASLEEP_STYLE

__all__ = ["STYLE"]

_RULES = """
.vw-panel{max-width:1120px;container-type:inline-size;color:var(--jp-ui-font-color0,#111);overflow:visible}
.vw-panel .widget-html-content{line-height:1.4;font-size:13px}
.vw-panel .jupyter-widgets{overflow:visible}
.vw-panel .widget-html,.vw-panel .widget-html-content{min-width:0}
.vw-verdict{height:54px;overflow:auto}
.vw-verdict.vw-long{height:80px}
.vw-verdict .vw-big{font-size:21px;line-height:1.3;margin:0}
.vw-verdict .vw-big.vw-wordy{font-size:18px;line-height:27px}
.vw-verdict .vw-small{font-size:13px;color:var(--jp-ui-font-color1,#444);margin:2px 0 0;
 white-space:nowrap;overflow:hidden;text-overflow:ellipsis}
.vw-controls{width:300px;flex:none;padding-right:16px;--jp-widgets-inline-height:24px}
.vw-controls>.widget-html{margin:0 2px}
.vw-controls h4{margin:4px 0 0;font-size:12px;line-height:16px;font-weight:600;color:var(--jp-ui-font-color1,#444)}
.vw-control{margin:0 2px 2px}
.vw-label{display:flex;width:100%;font-size:12px;line-height:16px}
.vw-label span:first-child{overflow:hidden;text-overflow:ellipsis;white-space:nowrap}
.vw-label i{font-style:normal;white-space:nowrap;padding-left:4px}
.vw-label span:last-child{margin-left:auto;padding-left:8px;color:var(--jp-ui-font-color2,#666);white-space:nowrap}
.vw-head.widget-html,.vw-head .widget-html-content{width:100%;height:16px;line-height:16px;margin:0}
.vw-controls .vw-fold{max-height:300px;overflow:auto}
.vw-control .widget-slider,.vw-control .widget-dropdown{width:100%;margin:0}
.vw-control .widget-text{width:84px;flex:none;margin:0}
.vw-control .widget-label{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.vw-track{flex:1;min-width:0;padding:0 10px 0 6px;position:relative}
.vw-track .vw-saved{position:absolute;left:14px;right:18px;top:18px;height:7px;pointer-events:none}
.vw-saved .widget-html-content{position:relative;height:7px}
.vw-saved i{position:absolute;width:2px;margin-left:-1px;height:7px;background:var(--jp-ui-font-color2,#777)}
.vw-strip{display:grid;grid-template-columns:repeat(3,1fr);gap:6px 10px;min-height:138px;margin-bottom:6px}
.vw-tile{min-width:0;padding:3px 8px;background:var(--jp-layout-color2,#f2f2f2)}
.vw-tile span,.vw-tile small{display:block;font-size:12px;line-height:16px;color:var(--jp-ui-font-color1,#444)}
.vw-tile b{display:inline-block;font-size:17px;line-height:24px;margin-right:8px;font-weight:600;white-space:nowrap}
.vw-panel .vw-middle{display:grid;grid-template:"knobs picture" auto "knobs grave" 1fr / 300px minmax(0,1fr)}
.vw-middle>.vw-controls,.vw-middle>.vw-left{grid-area:knobs}
.vw-middle>.vw-right{grid-area:picture}
.vw-middle>.vw-grave{grid-area:grave}
@container (max-width:760px){
 .vw-panel .vw-middle{grid-template:"picture" auto "knobs" auto "grave" auto / minmax(0,1fr)}
 .vw-panel .vw-chart .widget-html-content>svg{max-height:330px}
 .vw-panel .vw-slot,.vw-panel .vw-slot .widget-html{height:92px}}
@container (max-width:560px){
 .vw-panel .vw-verdict{height:80px}
 .vw-panel .vw-verdict .vw-big{font-size:18px}
 .vw-panel .vw-verdict.vw-long{height:134px}
 .vw-panel .vw-left,.vw-panel .vw-controls{width:100%}}
@container (max-width:480px){
 .vw-panel .vw-strip{grid-template-columns:repeat(2,1fr)}
 .vw-panel .vw-slot,.vw-panel .vw-slot .widget-html{height:148px}}
.vw-control .vw-alert{font-size:12.5px;line-height:1.3}
.vw-left{width:300px;flex:none}
.vw-left .vw-controls .vw-fold{max-height:420px}
.vw-left .vw-controls>.jupyter-button{width:284px;text-align:left}
.vw-tabs .widget-toggle-buttons,.vw-tabs.widget-toggle-buttons{flex-wrap:wrap}
.vw-tabs .jupyter-button{width:auto;padding:0 10px}
.vw-bar{flex-flow:row wrap;align-items:center;min-height:36px}
.vw-bar .jupyter-button{width:auto;padding:0 12px}
.vw-bar .widget-dropdown{width:270px;max-width:100%}
.vw-bar .widget-label{width:auto}
.vw-anew{border-left:4px solid var(--vw-warn,#8a5a00);padding:2px 10px;font-size:13.5px}
.vw-head-row{align-items:center}
.vw-head-row .vw-head{flex:1;min-width:0}
.vw-control .vw-reset{width:20px;min-width:20px;height:16px;line-height:14px;padding:0;margin:0 0 0 4px;background:none;
 color:var(--jp-ui-font-color1,#444)}
.vw-sizes .widget-html-content{font-size:12px;line-height:16px;color:var(--jp-ui-font-color1,#444)}
.vw-stale{opacity:.4;filter:grayscale(1)}
.vw-files .widget-label{width:70px}
.vw-files .jupyter-button{width:auto;padding:0 12px}
.vw-mail textarea{display:block;width:100%;box-sizing:border-box;margin:2px 0 6px;padding:4px 8px;font:inherit;
 color:inherit;background:var(--jp-layout-color2,#f2f2f2);border:1px solid var(--jp-border-color1,#8a8a8a)}
.vw-right{min-width:0}
.vw-chart.widget-html{margin:0}
.vw-chart .widget-html-content>svg{width:100%;height:auto;display:block}
.vw-chart .widget-html-content>.vw-schematic{width:auto}
.vw-chart,.vw-chart .widget-html-content{width:100%}
.vw-tools{align-items:center;min-height:28px}
.vw-tools .jupyter-button{width:auto;padding:0 12px}
.vw-tools .widget-html{margin:0 8px}
.vw-tools .vw-csv{color:inherit;text-decoration:underline}
.vw-slot{height:56px}
.vw-slot .widget-html{flex:1;margin:0 2px;height:56px;overflow:auto}
.vw-slot .widget-toggle-button{width:58px;flex:none}
.vw-finding{font-size:13.5px;line-height:1.35}
.vw-missing{font-size:13.5px;line-height:1.35}
.vw-missing ul{margin:2px 0;padding-left:20px;max-height:120px;overflow:auto}
.vw-mark{font-weight:600;white-space:nowrap}
.vw-fails .vw-mark{color:var(--vw-bad,#b3261e)}
.vw-watch .vw-mark{color:var(--vw-warn,#8a5a00)}
.vw-advice{color:var(--jp-ui-font-color1,#444);font-size:13px}
.vw-alert{border-left:4px solid var(--vw-bad,#b3261e);padding:2px 10px;font-size:15px}
.vw-alert p{margin:2px 0}
.vw-verdict .vw-alert{font-size:13.5px;line-height:1.25}
.vw-sum,.vw-data{max-height:320px;overflow:auto;font-size:12px;line-height:1.45;margin:2px 0 8px;padding:6px 10px;
 background:var(--jp-layout-color2,#f2f2f2);color:inherit;white-space:pre-wrap}
.vw-fold h4{margin:6px 0 0;font-size:13px}
.vw-fold ul{margin:4px 0;padding-left:20px}
.vw-grave ul{margin:4px 0;padding:0;list-style:none}
.vw-grave li::before{content:"!";font-weight:700;color:var(--vw-bad,#b3261e);padding-right:8px}
.vw-folds .jupyter-button{width:auto;padding:0 12px}
.vw-fold .widget-html,.vw-grave{max-width:900px}
.vw-source{color:var(--jp-ui-font-color2,#666)}
.vw-table{border-collapse:collapse;font-size:13px}
.vw-table caption{text-align:left;caption-side:top;padding:2px 0}
.vw-table td,.vw-table th{padding:2px 12px 2px 0}
"""

_FOCUS = (
    f"{'.vw-panel' * 4} :focus-visible{{outline:2px solid var(--jp-brand-color1,#1976d2)!important;outline-offset:1px}}"
)
"""Where the keyboard is; the class four times outweighs what the widgets say of themselves."""

_DARK = f"--vw-bad:#ff8a80;--vw-warn:#ffcc66;{DARK_STYLE}"

_GROUND = (
    "color-scheme:dark;background:#1c1c1c;--jp-ui-font-color0:#e4e4e4;--jp-ui-font-color1:#c8c8c8;"
    "--jp-ui-font-color2:#a8a8a8;--jp-layout-color2:#2c2c2c;--jp-border-color1:#8a8a8a;--jp-widgets-color:#c8c8c8;"
    "--jp-widgets-label-color:#c8c8c8;--jp-widgets-input-color:#e4e4e4;--jp-widgets-input-background-color:#1c1c1c;"
)
"""What JupyterLab's dark theme gives a panel, for a page that has no such theme."""

_THEMES = (
    f'[data-jp-theme-light="false"] .vw-panel{{{_DARK}}}'
    f"@media (prefers-color-scheme:dark){{body:not([data-jp-theme-light]) .vw-panel{{{_DARK}{_GROUND}}}}}"
)
"""JupyterLab's own switch wins; any other page follows what its reader has chosen for all pages."""

STYLE = f"<style>{ASLEEP_STYLE}{_RULES}{_FOCUS}{HOVER_STYLE}{_THEMES}</style>"
"""One element for the head of a panel."""
