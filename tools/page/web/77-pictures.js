// Figures of other commands, and the tables that say the same.

const DARK_RULE = '@media screen and (prefers-color-scheme:dark)';
const shownPictures = [];

/** A picture in an img element runs nothing and loads nothing; nor does it see what the page's button chose. */
function pictureAddress(text) {
  const theme = document.documentElement.dataset.theme;
  const rule = {dark: '@media screen', light: '@media not all'}[theme] || DARK_RULE;
  return 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(text.replace(DARK_RULE, rule));
}

/** Light or dark as the page is now. */
function themePictures() {
  for (const {img, text} of shownPictures) img.src = pictureAddress(text);
}

/** Figures that came with a section; on a narrow screen they can be moved sideways. */
function pictures(results, section) {
  return (results.figures || []).filter((f) => f.section === section).map((f) => {
    const parsed = new DOMParser().parseFromString(f.svg, 'image/svg+xml'), part = (tag) => {
      const node = parsed.querySelector(tag);
      return node ? node.textContent : '';
    };
    const title = shown(part('title') || f.file, 200), words = shown(part('desc'), 1500);
    const img = el('img', {src: pictureAddress(f.svg), alt: `${title}. ${words}`});
    shownPictures.push({img, text: f.svg});
    return el(
        'figure', {class: 'picture'},
        el('div', {class: 'picture-frame', tabindex: 0, role: 'region', 'aria-label': title}, img),
        el('figcaption', {}, el('b', {}, title), '. ', words));
  });
}

/** "the air inside", for the name of a layer. */
function layerName(name) {
  const storey = /^inside-(\d+)$/.exec(name);
  if (storey) return 'the air inside, storey ' + storey[1];
  return {
    inside: 'the air inside',
    'gap-base': 'the gap under the base',
    'gap-top': 'the gap over the top',
    section: 'the slice with the air around'
  }[name] ||
      shown(name);
}

/** What the maps show, in numbers: between what their colours run. */
function mapTable(results) {
  const layers = ((results.field || {}).layers || []).filter((l) => l.hottest_K !== undefined);
  const slice = results.section && results.section.hottest_K !== undefined ?
      [{name: 'section', ...results.section}] :
      [];
  const rows = [...layers, ...slice].map(
      (l) =>
          [layerName(l.name), l.cells.join(' × '), celsius(l.coolest_K), celsius(l.hottest_K),
           speedText(l.fastest_m_s)]);
  if (!rows.length) return null;
  return table(
      'What the maps show: the coolest, the hottest and the fastest air in each',
      [
        {head: 'map of'}, {head: 'cells', kind: 'number'}, {head: 'coolest, °C', kind: 'number'},
        {head: 'hottest, °C', kind: 'number'}, {head: 'fastest', kind: 'number'}
      ],
      rows);
}

/** The slice in numbers: the vents it cuts, and what intakes draw again. */
function sliceTables(results) {
  const s = results.section;
  if (!s) return [];
  const leaks = new Set(results.device.vents.filter((v) => v.leak).map((v) => v.name));
  const cut = (s.vents || []).filter((v) => v.cut === 'cut' && !leaks.has(v.vent));
  const again = (s.reentry || []).filter((r) => !leaks.has(r.intake) && !leaks.has(r.outlet));
  const per = (flow) => (flow > 0 ? `${significant(1000 * flow, 2, 3)}` : '–');
  return [
    el('p', {class: 'quiet'},
       `The slice: ${shown(s.why || '', 300)}. ${(s.notes || []).map((n) => shown(n, 300)).join(' ')}`),
    cut.length ?
        table(
            'Vents that the slice cuts; flows are per metre across it',
            [
              {head: 'vent'}, {head: 'in, g/(s m)', kind: 'number'}, {head: 'out, g/(s m)', kind: 'number'},
              {head: 'speed', kind: 'number'}, {head: 'draws air of, °C', kind: 'number'}
            ],
            cut.map(
                (v) =>
                    [nameOf(v.vent), per(v.inflow_kg_s_m), per(v.outflow_kg_s_m), speedText(v.speed_m_s),
                     v.inflow_kg_s_m > v.outflow_kg_s_m ? celsius(v.drawn_K) : '–'])) :
        null,
    again.length ?
        table(
            'How much of what an intake draws has just come out of an outlet',
            [{head: 'intake'}, {head: 'outlet'}, {head: 'share', kind: 'number'}],
            again.map((r) => [nameOf(r.intake), nameOf(r.outlet), percentText(r.fraction)])) :
        null
  ];
}
