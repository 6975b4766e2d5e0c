/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files: what is saved comes back, hostile ones are refused in the words of a command without YAML. */
import fs from 'node:fs';
import {claim, expect, give, open, put, ready, refusal, report, rested, same, saved, taught} from './harness.mjs';
import {compareAll, shown} from './figures.mjs';

claim('a saved set opens again as it was', async () => {
    const page = await open();
    await page.click('[data-preset=flat]');
    await page.evaluate(() => window.tipcrest.teach.sliders.viewer.take(23.5));
    await taught(page);
    const before = await shown(page, '#teach'), files = await saved(page, '[data-file=save]');
    await page.click('[data-preset=equal]');
    await give(page, files['set.json']);
    await taught(page);
    same(await shown(page, '#teach'), before, 'figures');
    const again = await saved(page, '[data-file=save]');
    same(fs.readFileSync(again['set.json'], 'utf8'), fs.readFileSync(files['set.json'], 'utf8'), 'the file');
    await page.context().close();
});

claim('a set saved with its survey gives the same figures here and in the command', async () => {
    const page = await open();
    await page.click('[data-preset=rule]');
    await rested(page);
    const files = await saved(page, '[data-file=survey]', 2);
    same(Object.keys(files).sort(), ['set-left.csv', 'set.json'], 'files');
    await give(page, files['set.json'], files['set-left.csv']);
    await rested(page);
    compareAll(await shown(page, '#teach'), report('check', files['set.json']), 'surveyed');
    expect(await page.isDisabled('[data-slider=apart] input'), 'a survey decides how far the layers are apart');
    const {layer_height_mm: height} = report('step', files['set.json']), {apart, count} = await page.evaluate(() => {
        const {apart, count} = window.tipcrest.teach.sliders;
        return {apart: apart.value, count: count.value};
    });
    expect(Math.abs(apart - height.middle + height.bottom) < 1e-9, `layers are ${apart} mm apart, reported ${height.middle - height.bottom}`);
    same(count, report('check', files['set.json']).eyes[0].lashes.length, 'lashes');
    await page.click('#tab-consult');
    expect(await page.isVisible('#consult .surveyed'), 'Consult does not say that it takes no measured lashes');
    await page.click('#tab-teach');
    await page.click('[data-preset=equal]');
    await page.click('#tab-consult');
    expect(await page.isHidden('#consult .surveyed'), 'Consult says it of described lashes too');
    await page.click('#tab-teach');
    await give(page, files['set.json']);
    expect((await page.textContent('.problem')).includes('survey "set-left.csv" is not here; open it too'), 'no word of the survey');
    await page.context().close();
});

claim('of a set with two eyes either can be looked at and moved', async () => {
    const page = await open();
    await page.click('#tab-consult');
    await page.waitForFunction(() => window.tipcrest.consult.done !== null, null, {timeout: 120000});
    const files = await saved(page, '[data-file=plan]');
    await give(page, files['plan.json']);
    for (const side of ['left', 'right']) {
        await page.getByLabel('Eye', {exact: true}).selectOption(side);
        await page.evaluate(() => window.tipcrest.teach.sliders.viewer.take(12));
        await rested(page);
        const moved = await saved(page, '[data-file=save]');
        const figures = await shown(page, '#teach');
        expect(figures.every(one => one.side === side), `figures of the ${side} eye`);
        compareAll(figures, report('check', moved['plan.json']), side);
    }
    await page.context().close();
});

claim('work in progress survives a reload', async () => {
    const page = await open();
    await page.click('[data-preset=couch]');
    await page.evaluate(() => window.tipcrest.teach.sliders.bottom.take(13.5));
    await taught(page);
    const before = await shown(page, '#teach');
    await page.reload();
    await ready(page);
    await taught(page);
    same(await shown(page, '#teach'), before, 'figures');
    await page.context().close();
});

/* What the hand did last is kept when it rests; a page that goes before must keep it too. */
claim('a reload that does not wait for the hand to rest loses nothing', async () => {
    const page = await open();
    await page.click('[data-preset=rule]');
    await rested(page);
    const reload = change => Promise.all([page.waitForEvent('load'), page.evaluate(change)]).then(() => ready(page));
    await reload(() => {
        window.tipcrest.teach.sliders.opening.take(0.625);
        location.reload();
    });
    same(await page.evaluate(() => window.tipcrest.teach.set.opening), 0.625, 'the opening');
    await page.click('#tab-consult');
    await page.locator('#client-name').pressSequentially('Client 7');
    await reload(() => location.reload());
    same(await page.inputValue('#client-name'), 'Client 7', 'the name');
    await page.context().close();
});

claim('what was kept by another version, or spoiled, does not stop the page', async () => {
    const page = await open(), good = await page.evaluate(() => window.tipcrest.teach.text);
    const kept = changes => JSON.stringify({text: good, name: 'set.json', surveys: {}, tab: 'consult', wishes: {}, ...changes});
    const states = {
        'no JSON': '{', 'null': 'null', 'a list': '[]', 'no members': '{}',
        'a refused set': kept({text: '{"tipcrest": 99}'}),
        'wishes of other types': kept({wishes: {left: 7, right: null, look: ['cat'], longest: '12', halves: 1}}),
        'wishes out of range': kept({wishes: {from: -1e9, to: 1e9, longest: 1e300, left: {count: 1e9, tilt: -1e9}}}),
        'an unknown look': kept({wishes: {look: 'none', curl: '<b>'}}),
        'an unknown tab': kept({tab: 'none'}),
    };
    for (const [name, text] of Object.entries(states)) {
        /* A page that goes keeps its work, so the state is put where that has happened. */
        await page.evaluate(kept => window.addEventListener('pagehide', () => localStorage.setItem('tipcrest', kept)), text);
        await page.reload();
        await ready(page).catch(() => expect(false, `${name}: ${page.complaints}`));
        for (const tab of ['consult', 'teach']) {
            await page.click('#tab-' + tab);
            await rested(page);
        }
        expect((await shown(page, '#teach')).length > 10, `${name}: no figures`);
        same(page.complaints, [], name);
    }
    await page.context().close();
});

const GOOD = '{"tipcrest": 1, "eyes": [{"side": "left", "lashes": {"describe": {"count": 60}}, ' +
    '"map": [{"to": 1, "length_mm": 10, "curl": "C"}]}]}';
const HOSTILE = {
    'brackets.json': '['.repeat(1000000),
    'large.json': ' '.repeat(1000001),
    'nan.json': GOOD.replace('60', 'NaN'),
    'empty.json': '',
    'deep.json': '{"tipcrest": ' + '[['.repeat(20) + ']]'.repeat(20) + '}',
    'type.json': GOOD.replace('60', '"sixty"'),
    'negative.json': GOOD.replace('60', '-60'),
    'huge.json': GOOD.replace('60', '1e999'),
    'list.json': GOOD.replace('"left"', '["left"]'),
    'twice.json': GOOD.replace('"eyes"', '"tipcrest": 1, "eyes"'),
    'key.json': GOOD.replace('"count"', '"cuont"'),
    'curl.json': GOOD.replace('"C"', '"<img src=x onerror=alert(1)>"'),
    'bytes.json': Buffer.from([0x7b, 0xff, 0xfe, 0x00, 0x7d]),
    'picture.json': Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    'set.yaml.json': 'tipcrest: 1\neyes: []\n',
    'tray.json': GOOD.replace('"length_mm": 10', '"length_mm": 10.25'),
    'lid.json': GOOD.replace('"lashes"', '"lid": {"mrd1_mm": 8, "globe_radius_mm": 8}, "lashes"'),
    'step.json': GOOD.replace('"eyes"', '"layering": {"step_mm": 2.25}, "eyes"'),
};

/* Right sets that lack what most have, or have what most lack. */
const set = changes => JSON.stringify({...JSON.parse(GOOD), ...changes});
const eye = changes => ({eyes: [{...JSON.parse(GOOD).eyes[0], ...changes}]});
const ODD = {
    'one-lash.json': set(eye({lashes: {describe: {count: 1}}})),
    'few.json': set(eye({lashes: {describe: {count: 5, phases: 'none'}}})),
    'many.json': set(eye({lashes: {describe: {count: 600}}})),
    'any-tray.json': set({tray: 'any'}),
    'kinds.json': set({tray: {C: {0.15: [6, 8, 9, 10]}, D: {0.12: [9, 10]}}}),
    'fans.json': set({layering: {step_mm: 0, fan: 20, spread_deg: 90, diameter_mm: 0.03}}),
    'curls.json': set({curls: {C: {8: [[0.3, 0], [0.7, 80]], 12: [[0.2, 0], [0.8, 95]]}, 'É~': [[1, 200]]}}),
    'lid.json': set(eye({lid: {fissure_width_mm: 40, lateral_semiaxis_mm: 40, mrd1_mm: 0, canthal_tilt_deg: 15}})),
    'below.json': set({opening: 0.3, viewer_deg: -80}),
    'bare.json': set(eye({lashes: {describe: {count: 40, length_mm: 2}}})),
    'fixed.json': set(eye({map: [{to: 0.5, length_mm: 9, curl: 'L', top: {length_mm: 12, fan: 3}}, {to: 1, length_mm: 14, curl: 'B', bottom: {placement: 'inner-side'}}]})),
};

claim('odd sets that the command takes are shown with its figures, and their sliders move', async () => {
    const page = await open();
    for (const [name, content] of Object.entries(ODD)) {
        const file = put(name, content);
        same(refusal(file), null, `${name} and the command`);
        await give(page, file);
        await rested(page);
        expect(await page.isHidden('#teach .problem'), `${name}: ${await page.textContent('#teach .problem')}`);
        compareAll(await shown(page, '#teach'), report('check', file), name);
        await page.evaluate(() => {
            for (const slider of Object.values(window.tipcrest.teach.sliders))
                for (const value of [slider.to, slider.from, (slider.from + slider.to) / 2])
                    slider.take(value);
        });
        await rested(page);
        const moved = await saved(page, '[data-file=save]');
        compareAll(await shown(page, '#teach'), report('check', moved[name]), `${name}, moved`);
        same(page.complaints, [], `${name}: complaints`);
    }
    await page.context().close();
});

/* The command is built without YAML (examples/page.sh): one with YAML words faults of syntax otherwise. */
claim('hostile files are refused in the words of a command that reads JSON alone, and the page goes on', async () => {
    const page = await open();
    for (const [name, content] of Object.entries(HOSTILE)) {
        const file = put(name, content), said = refusal(file);
        expect(said !== null, `${name}: the command takes it`);
        await give(page, file);
        await page.waitForFunction(text => document.querySelector('.problem').textContent === text, said, {timeout: 60000})
            .catch(async () => same(await page.textContent('.problem'), said, name));
        await page.click('[data-preset=rule]');
        expect(await page.isHidden('.problem'), `${name}: the message stays`);
    }
    same(page.complaints, [], 'complaints');
    await page.context().close();
});

claim('a set can be given as text, and a wrong one says why', async () => {
    const page = await open();
    await page.click('[data-file=text]');
    const text = await page.inputValue('textarea');
    same(JSON.parse(text).tipcrest, 1, 'the text');
    await page.fill('textarea', text.replace('"tipcrest": 1', '"tipcrest": 2'));
    await page.click('dialog .bar button:first-child');
    expect(/format is 2/.test(await page.textContent('dialog .problem')), 'no message');
    await page.fill('textarea', GOOD);
    await page.click('dialog .bar button:first-child');
    expect(await page.isHidden('dialog'), 'the dialog stays');
    same(await page.evaluate(() => window.tipcrest.teach.set.eyes[0].lashes.describe.count), 60, 'lashes');
    await page.context().close();
});
