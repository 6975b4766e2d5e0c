/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Teach: one eye from the front and in profile, what moves it, and how even it is. */
const FIGURES_MS = 100;

/* What the lines and rings of a picture mean. */
const legendOf = names => make('ul', {class: 'legend'}, ...names.map(name =>
    make('li', {}, make('span', {class: 'key ' + name, 'aria-hidden': 'true'}), WORDS.legend[name])));

class Teach {
    constructor(page) {
        this.page = page;
        this.engine = page.engine;
        this.side = 0;
        this.told = -FIGURES_MS;
        this.front = new EyePicture(WORDS.front('left'));
        this.profile = new ProfilePicture(WORDS.profile);
        this.chart = new LessonChart();
        this.figures = make('div', {class: 'figures'});
        this.out = make('div', {class: 'out'});
        this.lesson = make('div', {class: 'lesson'}, this.chart.element);
        this.pays = make('p', {class: 'pays'});
        this.lesson.append(this.pays);
        this.problem = make('p', {class: 'problem', hidden: true});
        this.caption = make('figcaption');
        this.presets = make('div', {class: 'presets', role: 'group', 'aria-label': WORDS.presets.title});
        for (const name of Object.keys(PRESETS))
            this.presets.append(button(WORDS.presets[name], () => this.begin(name), {'data-preset': name, 'aria-pressed': 'false'}));
        this.controls();
        this.drag();
        this.table();
        this.element = make('section', {id: 'teach', class: 'work', 'aria-label': WORDS.tabs.teach},
            this.presets,
            make('div', {class: 'stage'},
                make('figure', {class: 'front'}, this.front.element, this.caption),
                make('figure', {class: 'side'}, this.profile.element,
                    make('figcaption', {}, WORDS.profile + ', ' + WORDS.profileNote))),
            this.problem,
            this.panel,
            make('div', {class: 'results'},
                make('section', {class: 'card'}, make('h2', {}, WORDS.figures), this.figures, this.legend()),
                make('section', {class: 'card'}, make('h2', {}, WORDS.lesson), this.lesson),
                make('section', {class: 'card'}, make('h2', {}, WORDS.stickOut), this.out)));
    }

    source(group, key) { return WORDS.sources[this.engine.source(group, key)]; }

    /* A slider that changes the set. */
    slider(name, options, change) {
        this.sliders ??= {};
        this.sliders[name] = new Slider({label: WORDS.sliders[name], change: value => {
            change(this.set, value);
            this.changed();
        }, ...options});
        this.sliders[name].element.dataset.slider = name;
        return this.sliders[name].element;
    }

    controls() {
        const eye = set => set.eyes.find(e => e.side === SIDES[this.side]);
        const layer = i => (set, value) => {
            const had = this.layerLengths(eye(set)), next = [...had];
            next[i] = value;
            setLayerLengths(set, eye(set), had, next, this.engine.tray(0), this.engine.most('layering', 'step_mm'));
        };
        const {units} = WORDS, couch = this.engine.artist().viewer_deg;
        const sizes = {from: 6, to: 16, grid: lengths(4, 18, 0.5), decimals: 1, unit: units.mm};
        const describe = (key, value) => described(this.set).forEach(d => { d[key] = value; });
        this.eye = new Choice({label: WORDS.eye, options: WORDS.sides, change: side => {
            this.side = SIDES.indexOf(side);
            this.changed(false);
        }});
        this.play = button(WORDS.play, () => this.playing ? this.stop() : this.blink(), {class: 'play', 'aria-pressed': 'false'});
        this.curl = new Choice({label: WORDS.curl, note: WORDS.sources[2],
            options: same(this.engine.curls()),
            change: value => {
                eye(this.set).map.forEach(zone => { zone.curl = value; });
                this.changed();
            }});
        this.young = new Switch({label: WORDS.young, change: on => {
            describe('phases', on ? 'A' : 'none');
            this.changed();
        }});
        this.places = LAYERS.map((name, i) => new Choice({label: WORDS.placement(WORDS.layers[i]), options: WORDS.placements,
            note: WORDS.sources[2],
            change: value => {
                ((this.set.layering ??= {}).placement ??= {})[name] = value;
                this.changed();
            }}));
        this.panel = make('div', {class: 'controls'},
            group(WORDS.groups.eye, this.eye.element,
                this.slider('opening', {from: 0, to: 1, grid: 0.005,
                    text: v => units.percent(short(100 * v))}, (set, v) => { set.opening = v; }),
                this.play,
                this.slider('viewer', {from: 0, to: couch, grid: 0.5,
                    text: v => (v === 0 ? WORDS.fromStreet : v === couch ? WORDS.couch : units.deg)(short(v))},
                (set, v) => { set.viewer_deg = v; })),
            group(`${WORDS.groups.lengths}, ${WORDS.longestZone}`,
                this.slider('bottom', sizes, layer(0)), this.slider('middle', sizes, layer(1)),
                this.slider('top', sizes, layer(2))),
            group(WORDS.groups.layers,
                this.slider('apart', {from: 0, to: 2, grid: 0.01, decimals: 2, unit: units.mm,
                    note: this.source('description', 'gap_mm')}, (_, v) => describe('gap_mm', v)),
                ...this.places.map(place => place.element), this.curl.element,
                this.slider('variation', {from: 0, to: 1, grid: 0.005, note: this.source('description', 'height_sd_mm'),
                    text: v => units.percent(short(100 * v))}, (set, v) => vary(this.engine, set, v)),
                this.young.element,
                this.slider('count', {from: 20, to: 140, grid: 1, decimals: 0, unit: units.count,
                    note: this.source('description', 'count')},
                    (_, v) => describe('count', v))),
            group(WORDS.groups.judge,
                this.slider('seen', {from: 150, to: 1200, grid: 5,
                    note: this.source('line', 'tolerance_mm'), text: v => units.cm(short(v / 10))},
                (set, v) => { set.line = {...set.line, seen_from_mm: v}; delete set.line.tolerance_mm; })));
    }

    /* The lid follows a finger or the mouse: the height of the open eye is the whole opening. */
    drag() {
        const picture = this.front.element, lid = 10 / this.front.box.height;
        let from = null;
        picture.addEventListener('pointerdown', event => {
            this.stop();
            from = {y: event.clientY, opening: this.sliders.opening.value};
            picture.setPointerCapture(event.pointerId);
        });
        picture.addEventListener('pointermove', event => {
            if (from !== null)
                this.sliders.opening.take(from.opening + (from.y - event.clientY) / (picture.clientHeight * lid));
        });
        for (const name of ['pointerup', 'pointercancel'])
            picture.addEventListener(name, () => { from = null; });
    }

    legend() { return legendOf(['fitted', 'intended', 'band', 'ring']); }

    begin(name) {
        this.stop();
        this.page.engine.putSurvey(0, '', null);
        this.page.engine.putSurvey(1, '', null);
        this.page.surveys = {};
        this.open(presetSet(this.engine, name), name);
    }

    /* Takes a set that the library has accepted. */
    open(set, preset = '') {
        this.set = set;
        this.good = '';
        this.side = Math.max(0, SIDES.indexOf(set.eyes[0].side));
        for (const one of this.presets.children)
            one.setAttribute('aria-pressed', String(one.dataset.preset === preset));
        this.changed(false);
    }

    get text() { return textOf(this.set); }

    layerLengths(eye) { return this.engine.layerLengths(0, this.side, middleOfLongest(eye)); }

    /* What the controls are at: what the library read of the set. */
    show() {
        const set = this.set, eye = set.eyes.find(e => e.side === SIDES[this.side]);
        const e = this.engine, s = this.sliders, tray = e.tray(0), lengths = this.layerLengths(eye);
        const of = (group, key) => e.value(0, this.side, group, key), count = of('description', 'count'), measured = Number.isNaN(count);
        this.element.dataset.side = SIDES[this.side];
        this.eye.show(SIDES[this.side]);
        this.eye.element.hidden = set.eyes.length < 2;
        LAYERS.forEach((name, i) => {
            s[name].grid = tray.length > 0 ? tray : TRAY.step;
            s[name].show(lengths[i]);
            this.places[i].show(e.word(0, this.side, 'placement', name));
        });
        s.opening.show(of('view', 'opening'));
        s.viewer.show(of('view', 'viewer_deg'));
        s.apart.show(measured ? e.apart(0, this.side)[0] : of('description', 'gap_mm'));
        s.variation.show(measured ? 1 : variationOf(e, 0, this.side));
        s.count.show(measured ? e.x.page_lash_count(0, this.side) : count);
        s.seen.show(e.seenFrom(0));
        for (const name of ['apart', 'variation', 'count'])
            s[name].enable(!measured, WORDS.measured);
        this.young.enable(!measured);
        this.young.show(measured || e.word(0, this.side, 'description', 'phases') !== 'none');
        this.curl.show(longestZone(eye).curl);
    }

    /* The set has changed: read, draw, tell. The rest follows when the hand rests. */
    changed(byHand = true) {
        if (!this.page.started)
            return;
        const text = this.text, fault = this.engine.read(0, text, this.page.fileName);
        this.problem.hidden = fault === null;
        if (fault !== null) {
            this.problem.textContent = `${WORDS.refused}: ${fault.message}`;
            if (this.good !== '')
                this.set = JSON.parse(this.good);
            this.engine.read(0, this.text, this.page.fileName);
        }
        this.good = fault === null ? text : this.text;
        this.show();
        if (!byHand)
            this.told = -FIGURES_MS;
        this.render();
        if (byHand)
            for (const one of this.presets.children)
                one.setAttribute('aria-pressed', 'false');
        clearTimeout(this.timer);
        clearTimeout(this.later); /* a lesson of what the set was before */
        this.later = 0;
        this.timer = setTimeout(() => this.rest(), byHand ? 150 : 0);
    }

    get settled() { return !this.timer && !this.playing; } /* but perhaps for the lesson */

    render() {
        const e = this.engine, side = this.side, opening = e.value(0, side, 'view', 'opening'), viewer = e.value(0, side, 'view', 'viewer_deg');
        const hairs = e.lashes(0, side);
        this.front.draw({side, opening, viewer, hairs, upper: e.margin(0, side, opening),
            open: e.margin(0, side, 1), lower: e.margin(0, side, 0)});
        this.front.lines({fitted: e.line(0, side, 0), intended: e.line(0, side, 1), hairs,
            tolerance: e.figure(0, side, 'fitted.tolerance_mm')});
        const profile = e.profile(0, side, 0.5);
        if (profile !== null)
            this.profile.draw(profile);
        setText(this.caption, WORDS.front(SIDES[side]) + (viewer !== 0 ? WORDS.raised(short(viewer)) : '') + '. ' + WORDS.toScale);
        setText(this.front.title, this.caption.textContent);
        /* Figures that change at every frame could not be read. */
        this.owed = performance.now() - this.told < FIGURES_MS;
        if (!this.owed)
            this.tell();
    }

    /* The figures, each the library's own: made once, then filled in. */
    table() {
        const made = [], show = (name, decimals, options) => {
            made.push(figure(NaN, name, decimals, options));
            return made[made.length - 1];
        };
        const row = i => make('tr', {}, make('th', {scope: 'row'}, make('span', {class: 'swatch l' + i, 'aria-hidden': 'true'}), WORDS.layers[i]),
            make('td', {}, show('fitted.layer_offset_mm.' + LAYERS[i], 2, {signed: true})),
            make('td', {}, show('views.artist.layer_offset_mm.' + LAYERS[i], 2, {signed: true})));
        this.verdict = make('p', {class: 'verdict'});
        this.figures.append(this.verdict,
            make('p', {class: 'big'}, show('fitted.rms_mm', 2), make('small', {}, WORDS.rms)),
            make('p', {class: 'note'}, WORDS.rmsNote),
            make('p', {}, ...WORDS.within(show('fitted.within_tolerance', 1, {percent: true}), show('fitted.tolerance_mm', 2))),
            make('p', {}, ...WORDS.sticking(show('staggered_lashes', 0), show('extended', 0))),
            make('table', {}, make('caption', {}, WORDS.layersOff),
                make('thead', {}, make('tr', {}, make('td'), make('th', {scope: 'col'}, WORDS.thisView), make('th', {scope: 'col'}, WORDS.couch(short(this.engine.artist().viewer_deg))))),
                make('tbody', {}, row(2), row(1), row(0))),
            make('p', {class: 'note'}, WORDS.verdictNote));
        this.cells = made;
    }

    tell() {
        this.told = performance.now();
        this.owed = false;
        const f = name => this.engine.figure(0, this.side, name);
        const verdict = WORDS.verdicts[f('verdict')] ?? WORDS.verdicts[0];
        this.cells.forEach(cell => cell.put(f(cell.dataset.figure)));
        setText(this.verdict, verdict);
        this.page.voice.say(WORDS.say(verdict, fixed(f('fitted.rms_mm'), 2), f('staggered_lashes'), f('extended')));
    }

    /* What can wait: who sticks out, the lesson, and keeping the work. */
    rest() {
        if (this.owed)
            this.tell();
        const e = this.engine, side = this.side, apart = e.apart(0, side);
        const deviation = e.column(0, side, 'deviation_mm')?.slice() ?? [], layer = e.column(0, side, 'layer')?.slice();
        const staggered = e.column(0, side, 'staggered')?.slice(), sizes = e.column(0, side, 'remedy_sizes')?.slice();
        const left = e.column(0, side, 'remedy_deviation_mm')?.slice();
        const worst = [...deviation.keys()].filter(i => staggered[i]).sort((a, b) => Math.abs(deviation[b]) - Math.abs(deviation[a]));
        const remedy = i => !sizes[i] ? [] : WORDS.remedy(sizes[i], figure(sizes[i], 'remedy.sizes', 0, {magnitude: true}),
            figure(left[i], 'remedy.deviation_mm', 2, {signed: true}));
        const item = i => make('tr', {}, make('th', {scope: 'row'}, e.id(0, side, i)),
            make('td', {}, WORDS.layers[layer[i]], make('small', {}, ...remedy(i))),
            make('td', {}, ...WORDS.inMm(figure(deviation[i], 'deviation_mm', 2, {signed: true}))));
        this.out.replaceChildren(worst.length === 0 ? make('p', {}, WORDS.nothingSticks) :
            make('table', {class: 'sticking'}, make('tbody', {}, ...worst.slice(0, 5).map(item))),
        worst.length > 5 ? make('p', {class: 'note'}, WORDS.more(worst.length - 5)) : '');
        this.page.keep();
        this.timer = 0;
        const key = JSON.stringify({...this.set, side, line: 0});
        const here = [apart ? apart[2] : NaN, e.figure(0, side, 'fitted.rms_mm')];
        if (key === this.lessonKey) {
            this.chart.draw(this.curves, here);
            return;
        }
        const curves = [];
        const step = () => { /* a place at a time, so that the hand is never held up */
            const at = curves.length / 5, row = e.lesson(0, side, at);
            if (row !== null)
                curves.push([at, ...row]);
            if (row !== null && curves.length < 9) {
                this.later = setTimeout(step, 0);
                return;
            }
            this.later = 0;
            this.curves = curves;
            this.lessonKey = key;
            if (row === null) {
                this.lessonKey = '';
                this.chart.clear();
                this.pays.textContent = WORDS.lessonNone;
                return;
            }
            this.chart.draw(curves, here);
            const pays = e.paysFrom(0, side);
            this.pays.replaceChildren(...Number.isNaN(pays) ? [WORDS.paysNever] : WORDS.pays(figure(pays, 'step:lesson.pays_from_mm.own.one_less', 2)));
        };
        step();
    }

    /* The eye opens as in a blink, twenty times slower, rests, and closes. */
    blink() {
        const slow = 20 * this.engine.x.page_blink_ms(), start = performance.now();
        this.play.textContent = WORDS.stop;
        this.play.setAttribute('aria-pressed', 'true');
        const frame = now => {
            const t = (now - start) / slow;
            this.set.opening = t < 1 ? this.engine.blink(t) : t < 1.3 ? 1 : t < 2.3 ? this.engine.blink(2.3 - t) : 0;
            if (t >= 2.8) {
                this.set.opening = 1;
                this.stop();
            }
            this.changed();
            if (this.playing)
                this.playing = requestAnimationFrame(frame);
        };
        this.playing = requestAnimationFrame(frame);
    }

    stop() {
        cancelAnimationFrame(this.playing);
        this.playing = 0;
        this.play.textContent = WORDS.play;
        this.play.setAttribute('aria-pressed', 'false');
    }
}
