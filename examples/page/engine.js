/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library, compiled to WebAssembly: texts and numbers in and out. Nothing is computed here. */
const PARTS = {fitted: 1, intended: 2, views: 4, remedies: 8, all: 31, anyLength: 1 << 16};
const SIDES = ['left', 'right'];
const GROUPS = {lid: 0, layering: 6, placement: 7, line: 11, view: 12, description: 13}; /* tcr_group */

class Engine {
    /* Unpacks the module that the page carries. */
    static async start(base64) {
        const bits = atob(base64), packed = new Uint8Array(bits.length);
        for (let i = 0; i < bits.length; i++)
            packed[i] = bits.charCodeAt(i);
        const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'));
        const bytes = await new Response(stream).arrayBuffer();
        const {instance} = await WebAssembly.instantiate(bytes, {});
        instance.exports._initialize();
        return new Engine(instance.exports);
    }

    constructor(x) {
        this.x = x;
        this.encoder = new TextEncoder();
        this.decoder = new TextDecoder();
        this.index = new Map();
        this.fields = new Map();
    }

    /* A text ended by a NUL in the module's memory. */
    text(at) {
        if (at === 0)
            return '';
        const memory = new Uint8Array(this.x.memory.buffer);
        return this.decoder.decode(memory.subarray(at, memory.indexOf(0, at)));
    }

    /* Doubles in the module's memory, or null. */
    numbers(at, count) {
        return at === 0 ? null : new Float64Array(this.x.memory.buffer, at, count);
    }

    /* Copies bytes in, a NUL behind them. */
    put(bytes) {
        const at = this.x.page_room(bytes.length + 1);
        if (at === 0)
            throw new Error(WORDS.noMemory);
        const memory = new Uint8Array(this.x.memory.buffer, at, bytes.length + 1);
        memory.set(bytes);
        memory[bytes.length] = 0;
        return at;
    }

    with(texts, work) {
        const places = texts.map(text => this.put(this.encoder.encode(text)));
        try {
            return work(...places);
        } finally {
            places.forEach(at => this.x.page_give(at));
        }
    }

    /* Reads and checks a set: null, or {path, line, column, message}. text may be bytes. */
    read(slot, text, path, parts = PARTS.all) {
        const bytes = typeof text === 'string' ? this.encoder.encode(text) : text;
        const at = this.put(bytes);
        try {
            const status = this.with([path], name => this.x.page_read(slot, at, bytes.length, name, parts));
            return status === 0 ? null : this.fault();
        } finally {
            this.x.page_give(at);
        }
    }

    fault() {
        return {path: this.text(this.x.page_message_path()), line: this.x.page_message_line(),
            column: this.x.page_message_column(), message: this.text(this.x.page_message())};
    }

    /* The survey of an eye, by the name that the set gives it; bytes of null drop it. */
    putSurvey(side, name, bytes) {
        const none = bytes === null;
        this.x.page_survey_put(side, none ? 0 : this.put(this.encoder.encode(name)),
            none ? 0 : this.put(bytes), none ? 0 : bytes.length);
    }

    quantity(name) {
        if (!this.index.has(name))
            this.index.set(name, this.with([name], at => this.x.page_quantity(at)));
        return this.index.get(name);
    }

    figure(slot, side, name) { return this.x.page_figure(slot, side, this.quantity(name)); }

    column(slot, side, name) {
        const count = this.x.page_lash_count(slot, side);
        return this.numbers(this.x.page_column(slot, side, this.quantity(name)), count);
    }

    hasEye(slot, side) { return this.x.page_has_eye(slot, side) !== 0; }
    id(slot, side, lash) { return this.text(this.x.page_id(slot, side, lash)); }
    symmetry(slot) { return this.numbers(this.x.page_symmetry(slot), 5); }
    version() { return this.text(this.x.page_version()); }
    blink(share) { return this.x.page_blink(share); }

    /* ---- Fields: what the library read of a set, and its defaults ---------------------------- */

    field(group, key) {
        const name = group + '.' + key;
        if (!this.fields.has(name))
            this.fields.set(name, this.with([key], at => this.x.page_field(GROUPS[group], at)));
        return this.fields.get(name);
    }

    standard(group, key) { return this.x.page_standard(this.field(group, key)); }
    most(group, key) { return this.x.page_most(this.field(group, key)); }
    /* Where a default comes from: 0 nothing, 1 published, 2 common practice, 3 assumed. */
    source(group, key) { return this.x.page_source(this.field(group, key)); }
    /* As it holds for a slot's set; NaN where it has none. */
    value(slot, side, group, key) { return this.x.page_value(slot, side, GROUPS[group], this.field(group, key)); }
    /* The same of an enumeration, as its word in files. */
    word(slot, side, group, key) { return this.text(this.x.page_word(this.field(group, key), this.value(slot, side, group, key))); }
    seenFrom(slot) { return this.x.page_seen_from(slot); }

    /* The lengths of a slot's tray; none where every length is at hand. */
    tray(slot) {
        const at = this.x.page_tray(slot);
        return [...this.numbers(at, 1 + this.numbers(at, 1)[0])].slice(1);
    }

    /* What map and rule give the three layers at a place of the lid. */
    layerLengths(slot, side, u) { return [...(this.numbers(this.x.page_layer_lengths(slot, side, u), 3) ?? [NaN, NaN, NaN])]; }

    /* The artist's view, as keys of a set. */
    artist() {
        const [opening, viewer] = this.numbers(this.x.page_artist(), 2);
        return {opening, viewer_deg: viewer};
    }

    /* Texts by their numbers, until one is empty. */
    texts(at) {
        const found = [];
        for (let text = this.text(at(0)); text !== ''; text = this.text(at(found.length)))
            found.push(text);
        return found;
    }

    /* The labels of all curls that the library knows. */
    curls() { return this.texts(this.x.page_catalogue_curl); }

    /* The lashes of an eye as a survey. */
    survey(slot, side) {
        const at = this.x.page_survey_text(slot, side);
        const text = this.text(at);
        this.x.page_give(at);
        return text;
    }

    looks() {
        return this.texts(this.x.page_look_name).map((name, i) => ({name, about: this.text(this.x.page_look_about(i))}));
    }

    /* The zones of a look: [{to, length_mm}], or null. */
    look(number, longest, tray) {
        const out = this.numbers(this.x.page_look(number, longest, tray.from, tray.to, tray.step), 33);
        return out === null ? null :
            Array.from({length: out[0]}, (_, i) => ({to: out[1 + 2 * i], length_mm: out[2 + 2 * i]}));
    }

    /* ---- Shapes, each a copy of its numbers ------------------------------------------------- */

    lashes(slot, side) {
        const at = this.x.page_lashes(slot, side);
        return at === 0 ? null : new Hairs(new Float64Array(this.x.memory.buffer, at), 1,
            this.numbers(at, 1)[0]);
    }

    margin(slot, side, opening) { return this.numbers(this.x.page_margin(slot, side, opening), 98)?.slice() ?? null; }
    line(slot, side, which) { return this.numbers(this.x.page_line(slot, side, which), 122)?.slice() ?? null; }

    profile(slot, side, u) {
        const at = this.x.page_profile(slot, side, u);
        if (at === 0)
            return null;
        const all = new Float64Array(this.x.memory.buffer, at);
        return {upper: [all[0], all[1]], lower: [all[2], all[3]], apart: all[4], hairs: new Hairs(all, 5, 3)};
    }

    lesson(slot, side, apart) { return this.numbers(this.x.page_lesson(slot, side, apart), 4)?.slice() ?? null; }
    paysFrom(slot, side) { return this.x.page_pays_from(slot, side); }
    apart(slot, side) { return this.numbers(this.x.page_apart(slot, side), 3)?.slice() ?? null; }

    /* ---- Plans ------------------------------------------------------------------------------ */

    /* Plans a slot's set: null, or what is in the way. */
    plan(slot, samples) { return this.x.page_plan(slot, samples) === 0 ? null : this.fault(); }

    cells(slot) {
        return Array.from({length: this.x.page_plan_cells()}, (_, i) => {
            const c = this.numbers(this.x.page_plan_cell(i), 11).slice();
            return {side: c[0], zone: c[1], layer: c[2], lashes: c[3], length_mm: c[4],
                curl: this.text(this.x.page_curl(slot, c[5])), diameter_mm: c[6], fan: c[7],
                spread_deg: c[8], placement: Object.keys(WORDS.placements)[c[9]], rms_mm: c[10]};
        });
    }

    planEye(side) { return this.numbers(this.x.page_plan_eye(side), 13)?.slice() ?? null; }
}

/* Lashes as page_shape.c writes them: a head and rows of points (x, y, half width). */
const HEAD = 6, NATURAL = 9, FIBRE = 15;
class Hairs {
    constructor(all, first, count) {
        const starts = [];
        let at = first;
        for (let i = 0; i < count; i++) {
            starts.push(at);
            at += HEAD + 3 * NATURAL + 3 * FIBRE * all[at + 1];
        }
        const shift = starts[0] ?? 0;
        this.all = all.slice(shift, at);
        this.starts = starts.map(start => start - shift);
    }

    get count() { return this.starts.length; }
    layer(i) { return this.all[this.starts[i]]; }
    fibres(i) { return this.all[this.starts[i] + 1]; }
    sticks(i) { return this.all[this.starts[i] + 2] !== 0; }
    tip(i) { return [this.all[this.starts[i] + 3], this.all[this.starts[i] + 4]]; }
    deviation(i) { return this.all[this.starts[i] + 5]; }
    natural(i) { return this.starts[i] + HEAD; }
    fibre(i, j) { return this.starts[i] + HEAD + 3 * NATURAL + 3 * FIBRE * j; }
}
