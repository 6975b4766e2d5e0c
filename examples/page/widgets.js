/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Elements, sliders, choices and numbers as text. */

/* make('p', {class: 'note'}, 'text', child, ...) */
function make(name, attributes = {}, ...children) {
    const svg = ['svg', 'path', 'text', 'tspan', 'circle', 'title'].includes(name);
    const element = svg ? document.createElementNS('http://www.w3.org/2000/svg', name) : document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
        if (value === false || value === undefined)
            continue;
        if (key.startsWith('on'))
            element.addEventListener(key.slice(2), value);
        else
            element.setAttribute(key, value === true ? '' : value);
    }
    element.append(...children);
    return element;
}

/* A number of digits and a point, as it is shown. */
const digits = text => String(text).replace('.', WORDS.decimal);

/* A number with so many decimals and a true minus; '–' where there is none. */
function fixed(value, decimals, signed = false) {
    if (value === null || Number.isNaN(value))
        return WORDS.none;
    const text = Math.abs(value).toFixed(decimals);
    const zero = Number(text) === 0;
    return (value < 0 && !zero ? '−' : signed && !zero ? '+' : '') + digits(text);
}

/* With one decimal, or none where that is a zero. */
const short = value => fixed(value, Number(value.toFixed(1)) % 1 === 0 ? 0 : 1);

/*
 * A figure of the library: shown rounded, with all digits beside it. Its name is that of reports,
 * so that whoever doubts it finds it again. magnitude: words beside it say the sign.
 */
function figure(value, name, decimals, {signed = false, percent = false, magnitude = false, kind = 'span'} = {}) {
    const element = make(kind, {class: 'figure', 'data-figure': name, 'data-magnitude': magnitude});
    element.put = next => {
        element.dataset.value = String(next);
        setText(element, percent ? WORDS.units.percent(fixed(next * 100, decimals)) : fixed(magnitude ? Math.abs(next) : next, decimals, signed));
    };
    element.put(value);
    return element;
}

/* Changes a text only where it differs, so that nothing is laid out anew for nothing. */
function setText(element, text) {
    if (element.said !== text)
        element.textContent = element.said = text;
}

let made = 0;

/*
 * A slider: range, unit, decimals. By keyboard it moves by a twentieth of its range, with Shift by
 * a two-hundredth, by the Page keys by a fifth; grid is the least step, or a list of values.
 */
class Slider {
    constructor({label, from, to, grid, decimals, unit, note = '', text, change}) {
        Object.assign(this, {from, to, grid, decimals, unit, say: text, change});
        const id = 'slider-' + ++made;
        this.input = make('input', {type: 'range', id, min: from, max: to, step: 'any'});
        this.output = make('output', {for: id});
        this.source = make('span', {class: 'source'}, note);
        this.element = make('div', {class: 'slider'},
            make('label', {for: id}, label, ' ', this.source), this.output, this.input);
        this.input.addEventListener('input', () => this.take(Number(this.input.value)));
        this.input.addEventListener('keydown', event => this.key(event));
    }

    get value() { return this.present; }

    /* The nearest value on the grid, off the present one in the direction asked for. */
    snap(value, direction = 0) {
        const inside = Math.min(this.to, Math.max(this.from, value));
        if (!Array.isArray(this.grid))
            return Number((Math.round(inside / this.grid) * this.grid).toFixed(6));
        const open = this.grid.filter(v => v >= this.from && v <= this.to &&
            (direction === 0 || (v - this.present) * direction > 0));
        return open.reduce((best, v) => Math.abs(v - inside) < Math.abs(best - inside) ? v : best,
            open[0] ?? this.present);
    }

    key(event) {
        const range = this.to - this.from, part = event.shiftKey ? range / 200 : range / 20;
        const steps = {ArrowRight: part, ArrowUp: part, ArrowLeft: -part, ArrowDown: -part,
            PageUp: range / 5, PageDown: -range / 5, Home: -range, End: range};
        const step = steps[event.key];
        if (step === undefined || event.ctrlKey || event.altKey || event.metaKey)
            return;
        event.preventDefault();
        const least = Array.isArray(this.grid) ? 0 : this.grid;
        const size = Math.sign(step) * Math.max(Math.abs(step), least);
        this.take(this.snap(this.present + size, Math.sign(step)));
    }

    take(value) {
        const next = this.snap(value);
        const changed = next !== this.present;
        this.show(next);
        if (changed)
            this.change(next);
    }

    /* Shows a value without telling anybody. */
    show(value) {
        if (value === this.present && Number(this.input.value) === value)
            return; /* the input may stand beside the grid */
        this.present = value;
        const text = this.say ? this.say(value) : this.unit(fixed(value, this.decimals));
        this.input.value = value;
        if (this.output.said === text)
            return;
        setText(this.output, text);
        this.input.setAttribute('aria-valuetext', text);
    }

    limit(from, to) {
        if (from === this.from && to === this.to)
            return;
        Object.assign(this, {from, to});
        this.input.min = from;
        this.input.max = to;
        this.input.value = this.present;
    }

    enable(on, why = '') {
        if (this.input.disabled === !on)
            return;
        this.input.disabled = !on;
        this.element.classList.toggle('off', !on);
        this.element.title = on ? '' : why;
    }
}

/* Values that are their own texts. */
const same = values => Object.fromEntries(values.map(value => [value, value]));

/* A choice among words: {value: text}; about: what a value means, said below. */
class Choice {
    constructor({label, options, note = '', about, change}) {
        const id = 'choice-' + ++made;
        this.about = about;
        this.select = make('select', {id, 'aria-describedby': about ? id + '-about' : false},
            ...Object.entries(options).map(([value, text]) => make('option', {value}, text)));
        this.element = make('div', {class: 'choice'},
            make('label', {for: id}, label, ' ', make('span', {class: 'source'}, note)), this.select);
        if (about)
            this.element.append(make('p', {class: 'note', id: id + '-about'}));
        this.select.addEventListener('change', () => change(this.select.value));
    }

    show(value) {
        if (this.select.value !== value) {
            if (![...this.select.options].some(option => option.value === value))
                this.select.append(make('option', {value}, value));
            this.select.value = value;
        }
        if (this.about)
            setText(this.element.lastChild, this.about[value] ?? '');
    }
}

/* A switch with two states. */
class Switch {
    constructor({label, note = '', change}) {
        const id = 'switch-' + ++made;
        this.input = make('input', {type: 'checkbox', id});
        this.element = make('div', {class: 'switch'}, this.input,
            make('label', {for: id}, label, ' ', make('span', {class: 'source'}, note)));
        this.input.addEventListener('change', () => change(this.input.checked));
    }

    show(on) { this.input.checked = on; }
    enable(on) { this.input.disabled = !on; }
}

const button = (text, click, attributes = {}) => make('button', {type: 'button', onclick: click, ...attributes}, text);
const group = (title, ...children) => make('fieldset', {}, make('legend', {}, title), ...children);

/* The live region: says a sentence when the hand has rested for a second. */
class Voice {
    constructor(element) {
        this.element = element;
        this.timer = 0;
    }

    say(text) {
        clearTimeout(this.timer);
        this.timer = setTimeout(() => { this.element.textContent = text; }, 1000);
    }

    now(text) {
        clearTimeout(this.timer);
        this.element.textContent = text;
    }
}
