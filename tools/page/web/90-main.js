// The page: reads the data, builds the sections, redraws on a switch, a turn or another width.

class Page {
  constructor(data) {
    const {results} = data;
    this.results = {...results, sweeps: results.sweeps.map((s) => unpackedSweep(s, results.device.vents))};
    useUnits((data.results.model || {}).units);
    this.words = data.words;
    this.notDrawn = data.not_drawn;
    this.photos = data.photos || [];
    this.drawings = new Drawings(data.drawings);
    this.drawn = new Map();
    this.waiting = [];
    this.fresh = new Set();
  }

  /** Fills an element by a function of its width, now and whenever the width changes. */
  onResize(element, draw) {
    this.drawn.set(element, draw);
    this.fresh.add(element);
  }

  later(action) {
    this.waiting.push(action);
  }

  fill(element) {
    const width = Math.floor(element.clientWidth);
    if (width > 0) element.replaceChildren(...this.drawn.get(element)(width));
  }

  /** Draws what was asked for since; forgets what left the page. */
  fillNew() {
    for (const element of Array.from(this.drawn.keys()))
      if (!element.isConnected) this.drawn.delete(element);
    for (const element of this.fresh)
      if (element.isConnected) this.fill(element);
    this.fresh.clear();
  }

  redraw() {
    for (const element of this.drawn.keys())
      if (element.isConnected) this.fill(element);
  }
}

function contents(sections) {
  return el(
      'nav', {class: 'contents', 'aria-label': 'On this page'},
      sections.map((s) => el('a', {href: '#' + s.id}, s.querySelector('h2').textContent)));
}

function themeButton() {
  const button = el('button', {type: 'button'}, 'Light / dark');
  button.addEventListener('click', () => {
    const root = document.documentElement;
    const dark = root.dataset.theme ? root.dataset.theme === 'dark' :
                                      matchMedia('(prefers-color-scheme: dark)').matches;
    root.dataset.theme = dark ? 'light' : 'dark';
    themePictures();
  });
  return button;
}

/** What is folded below a claim is open on paper. Lists stay folded: they would take most of its pages. */
function openForPrint() {
  let opened = [];
  addEventListener('beforeprint', () => {
    opened = Array.from(document.querySelectorAll('details:not([open]):not(.more)'));
    opened.forEach((d) => {
      d.open = true;
    });
  });
  addEventListener('afterprint', () => opened.forEach((d) => {
    d.open = false;
  }));
}

function build(page) {
  const {results} = page, part = new ConditionPart(page);
  const choose = (i) => part.show(results.conditions[i]);
  const sections = [
    answerSection(results, page.words),
    section('device', 'What each vent does', conditionSwitch(results, choose), part.device),
    tiltSection(page), ...comparisonSections(page),
    section('temperatures', 'Temperatures against limits', part.temperatures), ...optionalSections(page),
    assumedSection(results), makerSection(results), methodSection(results), provenanceSection(results)
  ].filter(Boolean);
  const top = el(
      'header', {class: 'top'},
      el('div', {}, el('h1', {}, nameOf(results.device.name, 120)),
         el('div', {class: 'quiet'}, 'Which vents take air in, and which let it out: computed, not measured'),
         contents(sections)),
      themeButton());
  document.getElementById('page').append(top, el('main', {}, sections));
  document.documentElement.dataset.ready = 'building';
  if (results.conditions.length) choose(0);
  page.waiting.forEach((action) => action());
  page.fillNew();
  openForPrint();
  let width = document.documentElement.clientWidth, pending = 0;
  addEventListener('resize', () => {
    clearTimeout(pending);
    pending = setTimeout(() => {
      if (document.documentElement.clientWidth === width) return;
      width = document.documentElement.clientWidth;
      page.redraw();
    }, 60);
  });
  document.documentElement.dataset.ready = 'yes';
}

build(new Page(JSON.parse(document.getElementById('data').textContent)));
