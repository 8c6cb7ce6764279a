// What the case answers as it is drawn: the condition that is shown, the claims by the values as written, and
// what the reader finds wrong.

const VERDICT_WORDS = {
  holds: 'true as written',
  fails: 'false as written',
  undecided: 'too close to call',
  open: 'not solved yet'
};
const VERDICT_SIGNS = {holds: '✓', fails: '✗', undecided: '?', open: '…'};

class Answers {
  constructor(app) {
    this.app = app;
    this.condition = el('select', {id: 'condition', 'aria-label': 'Condition'});
    this.condition.addEventListener('change', () => app.showCondition(this.condition.selectedIndex));
    this.also = el('select', {id: 'also-on'});
    this.also.addEventListener('change', () => app.layOn(this.also.value));
    this.sum = el('p', {class: 'sum', role: 'status'});
    this.claims = el('ul', {class: 'claims'});
    this.faults = el('ul', {class: 'faults', 'aria-live': 'polite'});
    this.rest = el('details', {class: 'rest'});
    this.node = el(
        'section', {class: 'answers', 'aria-label': 'Answer'}, el('h2', {}, 'Answer'),
        el('label', {class: 'field'}, el('span', {}, 'Condition'), this.condition),
        el('label', {class: 'field'}, el('span', {}, 'The same on'), this.also), this.sum, this.claims,
        this.faults, this.rest);
  }

  draw() {
    const {app} = this, conditions = app.shapes.conditions || [];
    if (app.sound) {
      this.condition.replaceChildren(...conditions.map((c, k) => el('option', {selected: k === app.condition}, c.name)));
      this.condition.selectedIndex = app.condition;
    }
    this.also.replaceChildren(el('option', {value: ''}, 'a bed, sofa, lap …'), ...(app.generic.supports || []).map(
        ({name, says}) => el('option', {value: name}, `${name}: ${says}`)));
    this.also.disabled = !app.sound;
    this.condition.disabled = !app.sound || conditions.length < 2;
    this.sum.replaceChildren(...this.sentence());
    this.claims.replaceChildren(...this.claimRows());
    this.faults.replaceChildren(...this.faultRows());
    this.drawRest();
  }

  sentence() {
    const {solution, sound} = this.app;
    if (!sound) return ['No answer yet: see what is missing below.'];
    if (!solution) return ['Solving …'];
    if (!solution.solved) return ['No solution: ' + (solution.reason || 'the solver gave up') + '.'];
    const chip = solution.sources.filter((s) => s.temperature_K !== null).sort((a, b) => b.temperature_K - a.temperature_K)[0];
    const skin = solution.skin.filter((s) => !s.lies_on_something).sort((a, b) => b.temperature_K - a.temperature_K)[0];
    const air = solution.through_flow_kg_s / solution.room_density_kg_m3;
    return [
      `Air ${flowText(air)}`, chip ? `, ${shown(chip.source)} ${temperatureText(chip.temperature_K)}` : '',
      skin ? `, skin ${temperatureText(skin.temperature_K)} (${shown(skin.skin)})` : '', '.'
    ];
  }

  claimRows() {
    const judged = new Map((this.app.judged || []).map((j) => [j.id, j]));
    return (this.app.sound ? this.app.shapes.claims : []).map((claim) => {
      const {verdict, because} = judged.get(claim.id) || {verdict: 'open', because: ''};
      return el('li', {class: 'claim verdict-' + verdict, 'data-claim': claim.id, 'data-verdict': verdict},
                el('span', {class: 'verdict-sign', 'aria-hidden': 'true'}, VERDICT_SIGNS[verdict]),
                el('div', {}, el('b', {}, claim.say), el('br', {}), el('span', {class: 'quiet small'}, `${VERDICT_WORDS[verdict]}${because ? ': ' + because : ''}`)));
    });
  }

  faultRows() {
    const {app} = this, rows = app.said.map((words) => el('li', {class: 'told'}, words));
    for (const error of app.shapes.errors) rows.push(this.faultRow(error, 'error'));
    for (const warning of app.shapes.warnings) rows.push(this.faultRow(warning, 'warning'));
    return rows;
  }

  faultRow(fault, kind) {
    const thing = this.app.thingOf(fault.key);
    const row = el('li', {class: kind}, el('span', {class: 'mono small'}, `${this.app.name}:${fault.line}:${fault.column} `),
                   fault.key ? el('b', {}, fault.key + ': ') : null, fault.message, fault.hint ? ` (${fault.hint})` : '');
    if (thing) {
      const button = el('button', {type: 'button', class: 'quiet-button'}, 'Show');
      button.addEventListener('click', () => this.app.show(thing));
      row.append(' ', button);
    }
    return row;
  }

  /** What of the file this page leaves as it is. */
  drawRest() {
    const {text} = this.app, drawn = [...Object.keys(THINGS), 'tuft', 'device', 'photos'];
    const rest = text.keys([]).filter((key) => !drawn.includes(key));
    this.rest.replaceChildren(
        el('summary', {}, 'The file'),
        el('p', {class: 'small'}, rest.length ? `Stays as it is written, to be edited as text: ${rest.join(', ')}.` : 'Nothing in it that cannot be drawn.'),
        el('pre', {tabindex: 0, class: 'file', 'aria-label': 'Text of the case file'}, text.text));
  }
}
