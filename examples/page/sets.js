/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sets as documents: what a slider means in a set file. A document is the JSON that is saved; the
 * library reads the same text, so what is shown and what tipcrest check says of the file agree.
 */
const TRAY = {from: 4, to: 18, step: 0.5};
const lengths = (from, to, step) =>
    Array.from({length: Math.round((to - from) / step) + 1}, (_, i) => from + step * i);

/* The spread of a real eye, by the library's defaults; variation takes a share of each. */
const SPREAD = ['height_sd_mm', 'pitch_sd_deg', 'yaw_sd_deg', 'length_sd_mm', 'turn_sd_deg', 'root_diameter_sd_mm', 'stray_share'];

/* A set to teach with, as a preset has it. Its numbers are those of the lesson, not the library's. */
function lessonSet(engine, {title, step, gap, artist = false}) {
    const set = {
        tipcrest: 1, title,
        eyes: [{side: 'left', lashes: {describe: {count: 90, seed: 7, gap_mm: gap, phases: 'none'}},
            map: engine.look(0, 12, TRAY).map(zone => ({...zone, curl: 'C'}))}],
        layering: {step_mm: step, diameter_mm: 0.15,
            placement: {bottom: 'top', middle: 'outer-side', top: 'underside'}},
        tray: {lengths_mm: lengths(TRAY.from, TRAY.to, TRAY.step)},
        line: {tolerance_mm: 0.5},
        opening: 1, viewer_deg: 0,
    };
    vary(engine, set, 0.25);
    return artist ? fromArtist(engine, set) : set;
}

const PRESETS = {
    equal: {step: 0, gap: 1},
    rule: {step: 1, gap: 1},
    flat: {step: 1, gap: 0.2},
    couch: {step: 0, gap: 1, artist: true},
};

const presetSet = (engine, name) => lessonSet(engine, {title: WORDS.titles[name], ...PRESETS[name]});

/* A set otherwise the same, as the artist sees it from the head of the couch. */
const fromArtist = (engine, set) => ({...set, ...engine.artist()});

const described = set => set.eyes.map(eye => eye.lashes.describe).filter(d => d);

/* How much of a real eye's spread the description of a slot's eye has. */
const variationOf = (engine, slot, side) =>
    engine.value(slot, side, 'description', SPREAD[0]) / engine.standard('description', SPREAD[0]);

function vary(engine, set, variation) {
    for (const describe of described(set))
        for (const key of SPREAD)
            describe[key] = Number((variation * engine.standard('description', key)).toFixed(6));
}

/* The longest zone of an eye's map, and the middle of it. */
const longestZone = eye => eye.map.reduce((best, zone) => zone.length_mm > best.length_mm ? zone : best);
function middleOfLongest(eye) {
    const i = eye.map.indexOf(longestZone(eye));
    return ((i > 0 ? eye.map[i - 1].to : 0) + eye.map[i].to) / 2;
}

const LAYERS = ['bottom', 'middle', 'top'];

/*
 * Gives the layers their lengths in the longest zone, where they have had others by now; the other
 * zones keep their distance from it. Equal steps become the rule of the set, others are fixed zone
 * by zone. tray: the lengths at hand, none for any.
 */
function setLayerLengths(set, eye, had, [bottom, middle, top], tray, mostStep) {
    const shift = bottom - had[0], less = [0, bottom - middle, bottom - top];
    const rule = less[2] === 2 * less[1] && less[1] >= 0 && less[1] <= mostStep;
    const nearest = length => tray.reduce((best, v) => Math.abs(v - length) < Math.abs(best - length) ? v : best, tray[0] ?? length);
    set.layering ??= {};
    if (rule)
        set.layering.step_mm = less[1];
    for (const zone of eye.map) {
        zone.length_mm = nearest(zone.length_mm + shift);
        LAYERS.forEach((layer, i) => {
            const {length_mm: old, ...rest} = zone[layer] ?? {};
            const fits = tray.length === 0 || tray.includes(zone.length_mm - less[i]);
            if (!(rule && fits) && i > 0)
                rest.length_mm = nearest(zone.length_mm - less[i]);
            if (Object.keys(rest).length > 0)
                zone[layer] = rest;
            else
                delete zone[layer];
        });
    }
}

/* ---- A consultation -------------------------------------------------------------------------- */

const WISHES = {
    left: {mrd1: 3.5, tilt: 5, count: 96, length: 7.5},
    right: {mrd1: 3.2, tilt: 6, count: 92, length: 7.5},
    look: 'natural', longest: 11, curl: 'C', diameter: 0.12, from: 6, to: 14, halves: false, name: '',
};

/* The set of a consultation, or null where the tray has no length for it. */
function consultSet(engine, wishes, looks) {
    const tray = {from: wishes.from, to: wishes.to, step: wishes.halves ? 0.5 : 1};
    const zones = engine.look(Math.max(0, looks.findIndex(look => look.name === wishes.look)), wishes.longest, tray);
    if (zones === null)
        return null;
    return {
        tipcrest: 1, title: wishes.name || WORDS.titles.consult,
        eyes: SIDES.map((side, i) => ({
            side, lid: {mrd1_mm: wishes[side].mrd1, canthal_tilt_deg: wishes[side].tilt},
            lashes: {describe: {count: wishes[side].count, seed: 21 + i, length_mm: wishes[side].length}},
            map: zones.map(zone => ({...zone, curl: wishes.curl})),
        })),
        layering: {step_mm: 1, diameter_mm: wishes.diameter,
            placement: {bottom: 'top', middle: 'outer-side', top: 'underside'}},
        tray: {lengths_mm: lengths(tray.from, tray.to, tray.step)},
    };
}

/* The planned set: each zone fixes what the plan gives its layers, and the old map is the intended
 * one. */
function plannedSet(set, cells) {
    const planned = structuredClone(set);
    for (const eye of planned.eyes) {
        eye.intended = structuredClone(eye.map);
        cells.filter(cell => SIDES[cell.side] === eye.side).forEach(cell => {
            eye.map[cell.zone][LAYERS[cell.layer]] = {length_mm: cell.length_mm, curl: cell.curl,
                diameter_mm: cell.diameter_mm, fan: cell.fan, spread_deg: cell.spread_deg,
                placement: cell.placement};
        });
    }
    return planned;
}

const textOf = set => JSON.stringify(set, null, 1) + '\n';
