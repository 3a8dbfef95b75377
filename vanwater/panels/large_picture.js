// A chart drawn large by plotly, when the hand rests. plotly itself comes once a page, from the kernel.

const REST = 300; // ms without a change
const PATIENCE = 120000; // ms for the script to come
const SCRIPT = Symbol.for("vanwater.plotly");

const OWN = /<span style="color:(#[0-9a-f]{6})">/g; // a plan's own text has no "<"

const CONFIG = {
  displaylogo: false,
  plotlyServerURL: "",
  showSendToCloud: false,
  modeBarButtonsToRemove: ["sendChartToCloud", "toImage", "lasso2d", "select2d", "autoScale2d"],
};

/** plotly, asked for by the first picture that needs it; all others wait for the same. */
function plotly(model) {
  globalThis[SCRIPT] ??= new Promise((resolve, reject) => {
    const late = setTimeout(() => {
      model.off("msg:custom", take);
      delete globalThis[SCRIPT]; // the next picture asks again
      reject(new Error("The large picture needs a running kernel."));
    }, PATIENCE);
    const take = (message, buffers) => {
      if (message?.script !== "plotly") return;
      model.off("msg:custom", take);
      clearTimeout(late);
      const module = { exports: {} };
      const other = globalThis.Plotly; // that of somebody else stays what it is
      new Function("module", "exports", new TextDecoder().decode(buffers[0]))(module, module.exports);
      if (other === undefined) delete globalThis.Plotly;
      else globalThis.Plotly = other;
      resolve(module.exports);
    };
    model.on("msg:custom", take);
    model.send({ want: "plotly" });
  });
  return globalThis[SCRIPT];
}

/** JupyterLab says which theme it shows; elsewhere the system does. */
function dark() {
  const light = document.body.dataset.jpThemeLight;
  return light === undefined ? matchMedia("(prefers-color-scheme: dark)").matches : light === "false";
}

/** A copy of a figure, each of its colours replaced by the one that takes its place on a dark page. */
function themed(figure, tones) {
  const lit = dark();
  const rgb = (hex) => [1, 3, 5].map((start) => parseInt(hex.slice(start, start + 2), 16)).join(",");
  const clear = Object.fromEntries(Object.entries(tones).map(([from, to]) => [rgb(from), rgb(to)]));
  const tone = (colour) =>
    tones[colour] ?? colour.replace(/^rgba\((\d+,\d+,\d+),/, (all, parts) => `rgba(${clear[parts] ?? parts},`);
  const copy = (value, name) => {
    if (Array.isArray(value)) return value.map((inner) => copy(inner, name));
    if (value && typeof value === "object")
      return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, copy(inner, key)]));
    if (!lit || typeof value !== "string") return value;
    if (name === "text") return value.replace(OWN, (all, colour) => `<span style="color:${tone(colour)}">`);
    return name.endsWith("color") ? tone(value) : value;
  };
  return copy(figure, "");
}

function save(name, address) {
  const link = document.createElement("a");
  link.download = name;
  link.href = address;
  link.click();
}

function render({ model, el }) {
  const plot = document.createElement("div");
  plot.className = "vw-plot";
  plot.tabIndex = 0;
  plot.setAttribute("role", "group");
  const row = document.createElement("div");
  row.className = "vw-save";
  el.classList.add("vw-large");
  el.replaceChildren(plot, row);
  let Plotly, timer, gone = false;

  const draw = async () => {
    const { figure, told } = model.get("picture");
    el.hidden = !figure;
    if (!figure) return;
    plot.setAttribute("aria-label", told);
    try {
      Plotly = await plotly(model);
    } catch (error) {
      plot.textContent = error.message;
      return;
    }
    if (gone) return;
    const { data, layout } = themed(figure, model.get("tones"));
    await Plotly.react(plot, data, layout, CONFIG);
    plot.dataset.drawn = String(Number(plot.dataset.drawn ?? 0) + 1);
  };
  const rested = () => {
    clearTimeout(timer);
    timer = setTimeout(draw, REST);
  };

  const image = (format) => () => {
    const size = { width: plot.clientWidth, height: plot.clientHeight, scale: format === "png" ? 2 : 1 };
    return Plotly?.downloadImage(plot, { format, filename: model.get("picture").file, ...size });
  };
  const table = () => {
    const { csv, file } = model.get("picture");
    const address = URL.createObjectURL(new Blob([csv], { type: "text/csv;charset=utf-8" }));
    save(`${file}.csv`, address);
    setTimeout(() => URL.revokeObjectURL(address), 10000);
  };
  const whole = () => {
    const { xaxis, yaxis } = model.get("picture").figure.layout;
    return Plotly?.relayout(plot, { "xaxis.range": [...xaxis.range], "yaxis.range": [...yaxis.range] });
  };
  const buttons = [
    ["PNG", "save this picture as PNG", image("png")],
    ["SVG", "save this picture as SVG", image("svg")],
    ["CSV", "save the numbers of this picture as CSV", table],
    ["whole", "show the whole picture again", whole],
  ];
  for (const [text, name, act] of buttons) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = text;
    button.title = name;
    button.setAttribute("aria-label", name);
    button.addEventListener("click", act);
    row.append(button);
  }

  model.on("change:picture", rested);
  const theme = new MutationObserver(draw);
  theme.observe(document.body, { attributes: true, attributeFilter: ["data-jp-theme-light"] });
  const system = matchMedia("(prefers-color-scheme: dark)");
  system.addEventListener("change", draw);
  const room = new ResizeObserver(() => {
    if (Plotly && plot.data && plot.clientWidth) Plotly.Plots.resize(plot);
  });
  room.observe(plot);
  draw();
  return () => {
    gone = true;
    clearTimeout(timer);
    model.off("change:picture", rested);
    theme.disconnect();
    system.removeEventListener("change", draw);
    room.disconnect();
    if (Plotly) Plotly.purge(plot);
  };
}

export default { render };
