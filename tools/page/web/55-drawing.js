// The device true to scale from six sides, with what each vent does.

const LONGEST = 54, SHORTEST = 9;

/** The largest stream of a set of results [m3/s]. */
function largestFlow(vents, density) {
  return Math.max(
      0, ...vents.filter((v) => !v.leak).flatMap((v) => streamsOf(v, density)).map((s) => s.flow));
}

class DeviceDrawing {
  constructor(device, result, down, width) {
    Object.assign(this, {device, result, down});
    this.layout = layOutViews(device, width);
    this.narrow = this.layout.narrow;
    this.font = this.narrow ? 12 : 13;
    this.placer = new Placer();
    this.leftOut = [];
    this.labels = svg('g', {});
    this.most = largestFlow(result.vents, result.room_density_kg_m3);
    this.root = svg('svg', {
      viewBox: `0 0 ${px(width)} ${px(this.layout.height)}`,
      width: px(width),
      height: px(this.layout.height),
      role: 'img',
      'data-scale': px(this.layout.scale)
    });
  }

  vents() {
    return this.device.vents.map((vent, i) => ({vent, result: this.result.vents[i]}))
        .filter(({vent}) => !vent.leak);
  }

  body(view, group) {
    const b = view.chassis;
    group.append(svg('rect', {
      x: px(b.left),
      y: px(b.top),
      width: px(b.right - b.left),
      height: px(b.bottom - b.top),
      rx: 2.5,
      class: 'body',
      'data-chassis': view.kind
    }));
    this.shunEdges(b, 8);
    for (const skin of this.device.skin) {
      if (dot(skin.normal, view.frame.towards) > 0.5) group.append(this.rect(view.rectangle(skin), 'skin'));
    }
  }

  rect(box, kind, attributes) {
    return svg('rect', {
      x: px(box.left),
      y: px(box.top),
      width: px(box.right - box.left),
      height: px(box.bottom - box.top),
      class: kind,
      ...attributes
    });
  }

  shunEdges(b, weight) {
    this.placer.shunEdges(
        [[b.left, b.top], [b.right, b.top], [b.right, b.bottom], [b.left, b.bottom]], weight);
  }

  inside(view, group) {
    for (const fins of this.device.fins) this.fins(view, fins, group);
    for (const fan of this.device.fans) {
      const [cx, cy] = view.at(fan.centre_m), r = fan.diameter_m / 2 * view.scale;
      if (Math.abs(dot(fan.axis, view.frame.towards)) > 0.9) {
        for (const part of [1, 0.28])
          group.append(svg('circle', {cx: px(cx), cy: px(cy), r: px(part * r), class: 'part'}));
        this.placer.shun({left: cx - r, right: cx + r, top: cy - r, bottom: cy + r}, 0.2);
      } else {
        const size = fan.axis.map((a) => fan.diameter_m + Math.abs(a) * (fan.thickness_m - fan.diameter_m));
        group.append(this.rect(view.block(fan.centre_m, size), 'part', {rx: 2}));
      }
    }
  }

  fins(view, fins, group) {
    const box = view.block(fins.centre_m, fins.size_m), along = view.direction(fins.along);
    const lines = [];
    if (Math.abs(along[0]) > 0.5) {
      for (let y = box.top + 3.5; y < box.bottom - 0.5; y += 3.5)
        lines.push(`M ${px(box.left)} ${px(y)} H ${px(box.right)}`);
    } else {
      for (let x = box.left + 3.5; x < box.right - 0.5; x += 3.5)
        lines.push(`M ${px(x)} ${px(box.top)} V ${px(box.bottom)}`);
    }
    group.append(this.rect(box, 'fins'), svg('path', {d: lines.join(' ') || 'M 0 0', class: 'fins'}));
    this.placer.shun(box, 1);
  }

  /** A vent where its face is seen, or as a bar where it is seen from the side. */
  vent(view, {vent, result}, group) {
    const towards = dot(vent.normal, view.frame.towards), box = view.rectangle(vent);
    const tags = {'data-vent': shown(vent.name, 200), 'data-view': view.kind, 'data-role': doing(result)};
    if (towards > 0.5) {
      group.append(
          svg('g', {class: roleClass(result)},
              this.rect(box, 'tint-role', {...tags, rx: 1, 'stroke-width': 1.6})));
      this.placer.shun(box, 0.15);
      this.shunEdges(box, 5);
      const [x, y] = middleOf(box), r = 9;
      if (view.kind !== 'top' || vent.face !== 'hinge') {
        group.append(mark(doing(result), x, y, r));
        this.placer.block({left: x - r, right: x + r, top: y - r, bottom: y + r});
      }
    } else if (towards > -0.5) {
      const t = 2.4, flat = box.right - box.left < box.bottom - box.top;
      const bar = flat ? {...box, left: box.left - t, right: box.right + t} :
                         {...box, top: box.top - t, bottom: box.bottom + t};
      group.append(
          svg('g', {class: roleClass(result)}, this.rect(bar, 'fill-role', {...tags, 'data-edge': 'true'})));
      this.placer.shun(bar, 4);
    }
  }

  /** Arrows of a vent in the view that looks along its face; the box they take, or null. */
  arrows(view, {vent, result}, group) {
    const out = view.direction(vent.normal), length = Math.hypot(...out), unit = out.map((c) => c / length);
    const edge = [-unit[1], unit[0]], box = view.rectangle(vent), middle = middleOf(box);
    if (vent.face === 'hinge') middle[1] = box.top;
    const streams = streamsOf(result, this.result.room_density_kg_m3);
    const up = view.direction(this.down).map((c) => -c), boxes = [];
    streams.forEach((stream) => {
      const aside = streams.length > 1 ? asideOf(stream, edge, up) : 0;
      const reach = Math.max(SHORTEST, LONGEST * stream.flow / this.most);
      const near = middle.map((c, k) => c + 5 * unit[k] + aside * edge[k]);
      const far = near.map((c, k) => c + reach * unit[k]);
      const tags = {
        'data-vent': shown(vent.name, 200),
        'data-view': view.kind,
        'data-direction': stream.out ? 'out' : 'in',
        'data-flow': stream.flow.toPrecision(6)
      };
      group.append(
          svg('g', {class: roleClass(result)},
              stream.out ? arrow(near, far, 12, true, tags) : arrow(far, near, 12, false, tags)));
      boxes.push(boxAround([near, far], 7));
    });
    if (streams.length === 0 && dot(vent.normal, view.frame.towards) < 0.5) {
      const at = middle.map((c, k) => c + 13 * unit[k]);
      group.append(mark(doing(result), at[0], at[1], 7.5));
      boxes.push(boxAround([at], 8));
    }
    boxes.forEach((b) => this.placer.block(b));
    return boxes.length ? boxAround(boxes.flatMap((b) => [[b.left, b.top], [b.right, b.bottom]])) : null;
  }

  label(view, entry, anchor, full) {
    const {vent, result} = entry, density = this.result.room_density_kg_m3;
    const lines = full ? [{text: isolated(vent.name, 48), bold: true}] : [];
    if (full || streamsOf(result, density).length) {
      lines.push(...flowLines(result, density).map((text) => ({text, bold: true, kind: 'role-name'})));
    }
    if (full && !this.narrow && streamsOf(result, density).length) {
      lines.push({text: percentText(result.share) + ' of the air', kind: 'muted'});
    }
    if (!lines.length) return;
    const room = {...view.cell, top: view.cell.top + HEAD - 4};
    const attributes = {class: roleClass(result), 'data-label': shown(vent.name, 200)};
    const most = this.narrow ? 130 : 190,
          shunned = ['base', 'top'].includes(vent.face) && full ? null : view.chassis;
    for (let count = lines.length; count > 0; --count) {
      if (writeLabel(
              this.labels, this.placer, anchor, room, lines.slice(0, count), this.font, most, attributes,
              shunned))
        return;
    }
    if (full) this.leftOut.push(shown(vent.name, 40));
  }

  heading(view) {
    const {left, top} = view.cell;
    this.labels.append(gravitySign(view.frame, this.down, px(left + 10), px(top + 11), 8.5));
    const title = view.frame.title, at = left + 25, wide = textWidth(title, 14, true);
    this.labels.append(svg('text', {x: px(at), y: px(top + 16), 'font-size': 14, 'font-weight': 650}, title));
    const remark = fitted(view.frame.remark, view.cell.right - at - wide - 8, 12);
    if (view.frame.remark) {
      this.labels.append(
          svg('text', {x: px(at + wide + 8), y: px(top + 16), 'font-size': 12, class: 'muted'}, remark));
    }
    this.placer.block({left, top, right: at + wide + 8 + textWidth(remark, 12), bottom: top + 20});
  }

  scaleBar() {
    const view = this.layout.views.base, length = roundLength(120 / view.scale), y = view.cell.bottom - 5;
    const right = view.cell.right - 4, left = right - length * view.scale;
    const words = length < 1 ? millimetres(length) + ' mm' : length + ' m', wide = textWidth(words, 12);
    this.labels.append(
        svg('path', {
          d: `M ${px(left)} ${px(y - 4)} V ${px(y + 4)} M ${px(left)} ${px(y)} H ${px(right)} M ` +
              `${px(right)} ${px(y - 4)} V ${px(y + 4)}`,
          class: 'axis',
          'stroke-width': 1.5,
          'data-bar': px(right - left),
          'data-bar-m': length
        }),
        svg('text', {x: px(left - 6), y: px(y + 4), 'font-size': 12, 'text-anchor': 'end', class: 'muted'},
            words));
    this.placer.block({left: left - 8 - wide, right, top: y - 8, bottom: y + 8});
  }

  draw() {
    const {views} = this.layout, arrows = [];
    Object.values(views).forEach((view) => this.heading(view));
    this.scaleBar();
    for (const view of Object.values(views)) {
      const group = svg('g', {'data-view-group': view.kind});
      this.body(view, group);
      this.inside(view, group);
      this.vents().forEach((entry) => this.vent(view, entry, group));
      this.root.append(group);
    }
    for (const view of Object.values(views)) {
      for (const entry of this.vents()) {
        if (arrowView(entry.vent.face) !== view.kind) continue;
        arrows.push({view, entry, box: this.arrows(view, entry, this.root)});
      }
    }
    this.name(views, arrows);
    this.root.append(this.labels);
    return this.root;
  }

  /** In full where a vent's face, or the arrow of a side vent, is seen; at other arrows the flow alone. */
  name(views, arrows) {
    for (const entry of this.vents()) {
      const {face} = entry.vent, flat = face === 'base' || face === 'top';
      const view = flat ? views[face] : views.top;
      const drawn = arrows.find((a) => a.entry.vent === entry.vent);
      const anchor = flat || !drawn.box ? view.rectangle(entry.vent) : drawn.box;
      this.label(view, entry, anchor, true);
    }
    for (const {view, entry, box} of arrows) {
      if (view.kind === 'front' && box) this.label(view, entry, box, false);
    }
    for (const fan of this.device.fans) this.nameFan(views.top, fan);
  }

  nameFan(view, fan) {
    if (Math.abs(dot(fan.axis, view.frame.towards)) < 0.9 || this.narrow) return;
    const [x, y] = view.at(fan.centre_m);
    writeLabel(
        this.labels, this.placer, boxAround([[x, y]], 2), view.chassis,
        [{text: 'fan ' + isolated(fan.name, 24), kind: 'muted'}], 12, 120,
        {'data-fan': shown(fan.name, 100)});
  }
}
