/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sets as documents: what a slider means in a set file. A document is the JSON that is saved; the
 * library reads the same text, so what is shown and what tipcrest check says of the file agree.
 */
const TRAY = {from: 4, to: 18, step: 0.5};
const lengths = (from, to, step) =>
    Array.from({length: Math.round((to - from) / step) + 1}, (_, i) => from + step * i);

/* The spread of a real eye, by the library's defaults; variation takes a share of each. */
const SPREAD = {height_sd_mm: 0.1, pitch_sd_deg: 4, yaw_sd_deg: 4, length_sd_mm: 1, turn_sd_deg: 8,
    root_diameter_sd_mm: 0.01, stray_share: 0.02};
const share = (value, of) => Number((value * of).toFixed(6));

/* A set to teach with, as a preset has it. */
function lessonSet(engine, {title, step, gap, opening = 1, viewer = 0}) {
    const set = {
        tipcrest: 1, title,
        eyes: [{side: 'left', lashes: {describe: {count: 90, seed: 7, gap_mm: gap, phases: 'none'}},
            map: engine.look(0, 12, TRAY).map(zone => ({...zone, curl: 'C'}))}],
        layering: {step_mm: step, diameter_mm: 0.15,
            placement: {bottom: 'top', middle: 'outer-side', top: 'underside'}},
        tray: {lengths_mm: lengths(TRAY.from, TRAY.to, TRAY.step)},
        line: {tolerance_mm: 0.5},
        opening, viewer_deg: viewer,
    };
    vary(set, 0.25);
    return set;
}

const PRESETS = {
    equal: {step: 0, gap: 1},
    rule: {step: 1, gap: 1},
    flat: {step: 1, gap: 0.2},
    couch: {step: 0, gap: 1, opening: 0, viewer: 60},
};

const presetSet = (engine, name) => lessonSet(engine, {title: WORDS.titles[name], ...PRESETS[name]});

const described = set => set.eyes.map(eye => eye.lashes.describe).filter(d => d);

/* How much of a real eye's spread the first described eye has. */
const variationOf = set => (described(set)[0]?.height_sd_mm ?? SPREAD.height_sd_mm) / SPREAD.height_sd_mm;

function vary(set, variation) {
    for (const describe of described(set))
        for (const [key, real] of Object.entries(SPREAD))
            describe[key] = share(real, variation);
}

/* The longest zone of an eye's map. */
const longestZone = eye => eye.map.reduce((best, zone) => zone.length_mm > best.length_mm ? zone : best);

/* The lengths of the three layers in the longest zone. */
function layerLengths(set, eye) {
    const zone = longestZone(eye), step = set.layering?.step_mm ?? 1;
    return WORDS.layers.map((layer, i) => zone[LAYERS[i]]?.length_mm ?? zone.length_mm - step * i);
}

const LAYERS = ['bottom', 'middle', 'top'];

/*
 * Gives the layers their lengths in the longest zone; the other zones keep their distance from it.
 * Equal steps become the rule of the set, others are fixed zone by zone.
 */
function setLayerLengths(set, eye, [bottom, middle, top]) {
    const shift = bottom - layerLengths(set, eye)[0];
    const less = [0, bottom - middle, bottom - top];
    const rule = less[2] === 2 * less[1] && less[1] >= 0 && less[1] <= 3;
    const available = set.tray?.lengths_mm ?? lengths(5, 20, 1);
    const nearest = length => available.reduce((best, v) => Math.abs(v - length) < Math.abs(best - length) ? v : best);
    set.layering ??= {};
    if (rule)
        set.layering.step_mm = less[1];
    for (const zone of eye.map) {
        zone.length_mm = nearest(zone.length_mm + shift);
        LAYERS.forEach((layer, i) => {
            const {length_mm: old, ...rest} = zone[layer] ?? {};
            const fits = available.includes(zone.length_mm - less[i]);
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
