/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Consult: a client's two eyes from a few sliders, and what goes where by the library's plan. */
const SAMPLES = 200;

class Consult {
    constructor(page) {
        this.page = page;
        this.engine = page.engine;
        this.looks = this.engine.looks();
        this.wishes = structuredClone(WISHES);
        this.planner = new Planner(this.engine, result => this.planned(result));
        this.sliders = {};
        this.before = SIDES.map(side => new EyePicture(WORDS.front(side)));
        this.after = SIDES.map(side => new EyePicture(WORDS.front(side)));
        this.after.forEach(picture => { picture.finest = 2; }); /* they are printed */
        this.maps = SIDES.map(side => new MapPicture(WORDS.consult.map(WORDS.sides[side])));
        this.problem = make('p', {class: 'problem', hidden: true});
        this.surveyed = make('b', {class: 'surveyed', hidden: true}, ' ' + WORDS.consult.surveyed);
        this.state = make('p', {class: 'state'});
        this.plan = make('div', {class: 'plan'});
        this.figures = make('div', {class: 'expect'});
        this.controls();
        const sheet = make('section', {class: 'card sheet'}, make('h2', {}, WORDS.consult.plan), this.state, this.plan, this.figures,
            make('div', {class: 'maps', 'data-maps': ''}, ...SIDES.map((name, side) => make('figure', {}, this.maps[side].element,
                make('figcaption', {}, WORDS.consult.map(WORDS.sides[name]))))),
            make('p', {class: 'note'}, WORDS.consult.mapNote(short(this.engine.artist().viewer_deg))),
            make('p', {class: 'note'}, WORDS.consult.nobody),
            this.legend(), make('p', {class: 'caution'}, make('b', {}, WORDS.cautions[0])),
            make('h3', {class: 'only-print'}, WORDS.cautionsTitle),
            make('ul', {class: 'cautions only-print'}, ...WORDS.cautions.map(text => make('li', {}, text))));
        this.element = make('section', {id: 'consult', class: 'work', 'aria-label': WORDS.tabs.consult, hidden: true},
            make('div', {class: 'presets'}, button(WORDS.files.print, () => print()), button(WORDS.consult.save, () => this.savePlan(), {'data-file': 'plan'})),
            this.title = make('h2', {class: 'only-print'}),
            make('div', {class: 'stage pairs'}, ...[1, 0].map(side => make('figure', {'data-side': SIDES[side]},
                make('figcaption', {}, `${WORDS.sides[SIDES[side]]}, ${WORDS.consult.before}`), this.before[side].element,
                make('figcaption', {}, `${WORDS.sides[SIDES[side]]}, ${WORDS.consult.after}`), this.after[side].element))),
            this.problem, this.panel, make('div', {class: 'results one'}, sheet));
    }

    source(group, key) { return WORDS.sources[this.engine.source(group, key)]; }

    slider(name, key, side, options) {
        const target = () => side === undefined ? this.wishes : this.wishes[side];
        const slider = new Slider({label: WORDS.sliders[name], ...options, change: value => {
            slider.put(value);
            this.changed();
        }});
        slider.get = () => target()[key];
        slider.put = value => { target()[key] = value; };
        this.sliders[side === undefined ? name : `${side}-${name}`] = slider;
        slider.element.dataset.slider = side === undefined ? name : `${side}-${name}`;
        return slider.element;
    }

    choice(key, label, options, {read = value => value, note = '', about} = {}) {
        const choice = new Choice({label, options, note, about, change: value => {
            this.wishes[key] = read(value);
            this.changed();
        }});
        choice.get = () => String(this.wishes[key]);
        (this.choices ??= []).push(choice);
        return choice.element;
    }

    controls() {
        const {units} = WORDS, mm = {unit: units.mm, decimals: 1}, c = WORDS.consult;
        const eye = side => group(WORDS.sides[side],
            this.slider('mrd1', 'mrd1', side, {from: 1, to: 6, grid: 0.1, note: this.source('lid', 'mrd1_mm'), ...mm}),
            this.slider('tilt', 'tilt', side, {from: -4, to: 12, grid: 0.1, decimals: 1, unit: units.deg, note: this.source('lid', 'canthal_tilt_deg')}),
            this.slider('lashes', 'count', side, {from: 40, to: 140, grid: 1, decimals: 0, unit: units.count, note: this.source('description', 'count')}),
            this.slider('length', 'length', side, {from: 5, to: 11, grid: 0.1, note: this.source('description', 'length_mm'), ...mm}));
        this.name = make('input', {type: 'text', maxlength: 80, id: 'client-name'});
        this.name.addEventListener('input', () => {
            this.wishes.name = this.name.value;
            this.changed();
        });
        this.panel = make('div', {class: 'controls'}, make('p', {class: 'note'}, c.described, this.surveyed), eye('right'), eye('left'),
            group(c.wish,
                this.choice('look', WORDS.look, same(this.looks.map(look => look.name)),
                    {note: WORDS.sources[2], about: Object.fromEntries(this.looks.map(look => [look.name, look.about]))}),
                this.slider('longest', 'longest', undefined, {from: 6, to: 16, grid: 1, ...mm}),
                this.choice('curl', WORDS.curl, same(this.engine.curls()), {note: WORDS.sources[2]}),
                this.choice('diameter', WORDS.diameter, Object.fromEntries([0.05, 0.07, 0.1, 0.12, 0.15, 0.18].map(v => [v, units.mm(fixed(v, 2))])), {read: Number})),
            group(c.tray,
                this.slider('from', 'from', undefined, {from: 4, to: 9, grid: 1, ...mm}),
                this.slider('to', 'to', undefined, {from: 10, to: 18, grid: 1, ...mm}),
                this.choice('halves', WORDS.sizes, {false: WORDS.wholes, true: WORDS.halves}, {read: value => value === 'true'})),
            group(c.sheet, make('div', {class: 'choice'}, make('label', {for: 'client-name'}, c.name), this.name)));
    }

    legend() { return legendOf(['fitted', 'intended', 'other', 'band', 'ring']); }

    show() {
        const step = this.wishes.halves ? 0.5 : 1, w = this.wishes;
        this.sliders.longest.grid = lengths(w.from, w.to, step);
        this.sliders.longest.limit(Math.max(6, w.from), w.to);
        w.longest = Math.min(w.to, Math.max(6, w.from, w.longest));
        if (!this.sliders.longest.grid.includes(w.longest))
            w.longest = Math.round(w.longest);
        Object.values(this.sliders).forEach(slider => slider.show(slider.get()));
        this.choices.forEach(choice => choice.show(choice.get()));
        if (document.activeElement !== this.name)
            this.name.value = w.name;
    }

    /* Wishes that were kept, perhaps by another version: what the sliders cannot show is left out. */
    restore(kept) {
        const like = (own, given) => Object.fromEntries(Object.entries(own).map(([key, value]) => [key,
            typeof value === 'object' ? like(value, given?.[key]) : typeof given?.[key] === typeof value ? given[key] : value]));
        this.wishes = like(WISHES, kept);
        for (const slider of Object.values(this.sliders))
            slider.put(slider.snap(slider.get()));
    }

    get set() { return consultSet(this.engine, this.wishes, this.looks); }
    /* The planned set where there is a plan, else what was asked for. */
    get text() { return textOf(this.done ?? this.set); }

    changed() {
        this.show();
        this.planner.drop();
        this.done = null;
        this.surveyed.hidden = this.page.teach.set.eyes.every(eye => eye.lashes.describe);
        const set = this.set;
        this.asked = set;
        this.title.textContent = set.title;
        const fault = this.engine.read(1, textOf(set), 'consult.json', PARTS.all | PARTS.anyLength);
        this.complain(fault);
        this.state.textContent = fault === null ? WORDS.consult.planning : WORDS.consult.noPlan;
        this.element.classList.toggle('waiting', fault === null);
        if (fault === null) {
            this.drawBefore();
            clearTimeout(this.timer);
            this.timer = setTimeout(() => this.planner.ask({text: textOf(set), samples: SAMPLES}), 200);
        }
        this.page.keep();
    }

    get settled() { return this.done !== null || !this.problem.hidden; }

    complain(fault) {
        this.problem.hidden = fault === null;
        this.problem.textContent = fault === null ? '' : `${WORDS.refused}: ${fault.message}`;
        if (fault !== null)
            this.page.voice.say(this.problem.textContent);
    }

    /* The plan has come: the planned set is read as a file would be, and shown. */
    planned({fault, cells, eyes}) {
        this.element.classList.remove('waiting');
        if (fault === null) {
            this.done = plannedSet(this.asked, cells);
            this.cells = cells;
            this.eyes = eyes;
            fault = this.engine.read(0, textOf(this.done), 'plan.json');
        }
        this.complain(fault);
        if (fault !== null) {
            this.done = null;
            this.state.textContent = WORDS.consult.noPlan;
            this.plan.replaceChildren();
            this.figures.replaceChildren();
            return;
        }
        if (!this.element.hidden)
            this.tell();
    }

    shape(slot, side, bare) {
        const e = this.engine;
        return {side, opening: 1, viewer: 0, bare, hairs: e.lashes(slot, side), upper: e.margin(slot, side, 1),
            open: e.margin(slot, side, 1), lower: e.margin(slot, side, 0)};
    }

    drawBefore() {
        SIDES.forEach((_, side) => this.before[side].draw(this.shape(1, side, true)));
    }

    render() {
        if (this.element.hidden)
            return;
        this.drawBefore();
        if (this.done)
            this.tell();
    }

    tell() {
        const e = this.engine;
        e.read(0, textOf(this.done), 'plan.json');
        SIDES.forEach((_, side) => {
            const shape = this.shape(0, side, false);
            this.after[side].draw(shape);
            this.after[side].lines({fitted: e.line(0, side, 0), intended: e.line(0, side, 1), other: e.line(0, 1 - side, 0),
                hairs: shape.hairs, tolerance: e.figure(0, side, 'fitted.tolerance_mm')});
        });
        this.drawMaps();
        this.state.textContent = '';
        this.narrow = this.plan.clientWidth < 560 && !matchMedia('print').matches;
        this.plan.replaceChildren(...[1, 0].map(side => this.table(side)));
        this.figures.replaceChildren(...this.expectations());
        this.page.voice.say(WORDS.consult.said(...[1, 0].map(side => fixed(this.eyes[side][0], 2))));
    }

    /* The maps need the set seen from the couch, for which the set that was asked for makes room. */
    drawMaps() {
        const e = this.engine;
        e.read(1, textOf(fromArtist(e, this.done)), 'plan.json');
        const {opening} = e.artist();
        SIDES.forEach((name, side) => {
            const eye = this.done.eyes.find(one => one.side === name);
            const of = (zone, layer) => this.cells.find(cell => cell.side === side && cell.zone === zone && cell.layer === layer)?.length_mm ?? WORDS.none;
            this.maps[side].draw({side, hairs: e.lashes(1, side), upper: e.margin(1, side, opening),
                zones: eye.map.map((zone, i) => ({to: zone.to, lengths: [0, 1, 2].map(layer => of(i, layer))}))});
        });
        e.read(1, textOf(this.asked), 'consult.json', PARTS.all | PARTS.anyLength);
    }

    /* What each zone and layer of an eye gets. */
    table(side) {
        const eye = this.done.eyes.find(one => one.side === SIDES[side]), c = WORDS.consult;
        const cells = this.cells.filter(cell => cell.side === side);
        const text = (zone, layer) => {
            const cell = cells.find(one => one.zone === zone && one.layer === layer);
            return cell === undefined ? make('td', {}, c.bare) : make('td', {'data-cell': `${zone}-${layer}`},
                make('b', {}, short(cell.length_mm)), ` ${cell.curl} ${digits(cell.diameter_mm)}`,
                make('small', {}, ' ' + WORDS.placements[cell.placement]));
        };
        const layer = i => make('th', {scope: this.narrow ? 'col' : 'row'}, make('span', {class: 'swatch l' + i, 'aria-hidden': 'true'}), WORDS.layers[i]);
        const zone = i => make('th', {scope: this.narrow ? 'row' : 'col'}, String(i + 1)), zones = [...eye.map.keys()], down = [2, 1, 0], across = [0, 1, 2];
        const row = (...cells) => make('tr', {}, ...cells);
        /* On a telephone zones are rows, so that nothing lies beyond the edge. */
        const head = this.narrow ? across.map(layer) : zones.map(zone);
        const rows = this.narrow ? zones.map(i => row(zone(i), ...across.map(k => text(i, k)))) : down.map(k => row(layer(k), ...zones.map(i => text(i, k))));
        return make('div', {class: 'scroll', tabindex: 0, role: 'region', 'aria-label': WORDS.sides[SIDES[side]], 'data-side': SIDES[side]},
            make('table', {class: 'zones'}, make('caption', {}, `${WORDS.sides[SIDES[side]]}: ${c.zones}`),
                make('thead', {}, row(make('th', {scope: 'col'}, c.zone), ...head)), make('tbody', {}, ...rows)));
    }

    expectations() {
        const c = WORDS.consult, lines = [make('p', {}, make('b', {}, c.planned))];
        [1, 0].forEach(side => {
            const v = this.eyes[side];
            const of = (value, name, options) => figure(value, 'over_samples.' + name, options?.percent ? 0 : 2, options);
            lines.push(make('p', {'data-side': SIDES[side]}, make('b', {}, WORDS.sides[SIDES[side]]), ': ',
                ...c.expect(of(v[0], 'rms_mm'), of(v[2], 'within_tolerance', {percent: true})), '; ',
                ...c.mapped(of(v[4], 'mapped_rms_mm'), of(v[5], 'mapped_within_tolerance', {percent: true})),
                ...['mapped_beyond_limits', 'mapped_not_at_hand'].flatMap((name, i) => v[11 + i] > 0 ?
                    [', ', of(v[11 + i], name, {percent: true}), ' ', c.beyond[i]] : []), '; ',
                ...c.wants(of(v[8], 'wants_shorter.share', {percent: true}), of(v[9], 'wants_longer.share', {percent: true})), '.'));
            if (v[7] < v[6])
                lines.push(make('p', {class: 'note', 'data-side': SIDES[side]}, ...c.reach(...['asked_mm', 'given_mm'].map((name, i) =>
                    figure(v[6 + i], 'reach.' + name, v[6 + i] % 1 === 0 ? 0 : 1)))));
        });
        const s = this.engine.symmetry(0);
        const seen = side => make('span', {'data-side': SIDES[side]}, ...c.sampleEye(WORDS.sides[SIDES[side]],
            figure(this.engine.figure(0, side, 'fitted.rms_mm'), 'fitted.rms_mm', 2),
            figure(this.engine.figure(0, side, 'fitted.within_tolerance'), 'fitted.within_tolerance', 1, {percent: true})));
        lines.push(make('p', {}, ...c.sample(seen(1), seen(0)),
        ...(s === null ? [] : c.alike(WORDS.likeness[s[4]] ?? WORDS.verdicts[0], figure(s[0], 'symmetry.rms_mm', 2), figure(s[1], 'symmetry.max_mm', 2)))));
        return lines;
    }

    savePlan() { this.page.download('plan.json', this.text, 'application/json'); }
}
