/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The page from disk in Firefox, driven by its own remote protocol (Marionette: JSON with its length
 * in front, over a local port), since the driver of Chromium knows no Firefox of a distribution.
 */
import {spawn} from 'node:child_process';
import fs from 'node:fs';
import net from 'node:net';
import path from 'node:path';
import {claim, put, report, same, work} from './harness.mjs';
import {compareAll} from './figures.mjs';

const wait = ms => new Promise(done => setTimeout(done, ms));

async function connect(port) {
    for (;;) {
        try {
            return await new Promise((done, failed) => {
                const socket = net.connect(port, '127.0.0.1', () => done(socket));
                socket.on('error', failed);
            });
        } catch {
            await wait(200);
        }
    }
}

/* Calls of the protocol, answered in their order. */
function caller(socket) {
    let rest = Buffer.alloc(0), number = 0;
    const waiting = [];
    socket.on('data', data => {
        rest = Buffer.concat([rest, data]);
        for (let colon = rest.indexOf(':'); colon > 0; colon = rest.indexOf(':')) {
            const end = colon + 1 + Number(rest.subarray(0, colon));
            if (rest.length < end)
                return;
            const message = JSON.parse(rest.subarray(colon + 1, end));
            rest = rest.subarray(end);
            if (Array.isArray(message))
                waiting.shift()(message);
        }
    });
    return (command, parameters) => new Promise((done, failed) => {
        const text = JSON.stringify([0, ++number, command, parameters]);
        waiting.push(([, , error, result]) => error === null ? done(result) : failed(new Error(JSON.stringify(error))));
        socket.write(Buffer.byteLength(text) + ':' + text);
    });
}

const SCRIPT = `const done = arguments[arguments.length - 1];
    (async () => {
        const wait = () => new Promise(next => setTimeout(next, 100));
        while (document.querySelector('.curve') === null) await wait();
        const figures = [...document.querySelectorAll('#teach [data-figure]')].map(one => ({name: one.dataset.figure,
            value: Number(one.dataset.value), text: one.textContent, side: '', id: one.closest('tr')?.querySelector('th')?.textContent ?? '',
            magnitude: one.dataset.magnitude !== undefined}));
        document.querySelector('[data-file=text]').click();
        const text = document.querySelector('textarea').value;
        document.querySelector('dialog').close();
        document.getElementById('tab-consult').click();
        while (document.querySelector('#consult .zones') === null) await wait();
        done({figures, text, cells: document.querySelectorAll('#consult [data-cell]').length});
    })().catch(error => done({error: String(error)}));`;

claim('Firefox opens it from disk too, with the figures of the command, and plans', async () => {
    if (!process.env.FIREFOX)
        return {skip: 'there is no firefox-esr'};
    const port = 20000 + process.pid % 20000, profile = path.join(work, 'firefox');
    fs.mkdirSync(profile);
    fs.writeFileSync(path.join(profile, 'user.js'), `user_pref("marionette.port", ${port});
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("app.update.disabledForTesting", true);\n`);
    const firefox = spawn(process.env.FIREFOX, ['--headless', '--marionette', '--no-remote', '--profile', profile],
        {stdio: 'ignore', env: {...process.env, HOME: profile}});
    try {
        const call = caller(await connect(port));
        await call('WebDriver:NewSession', {capabilities: {}});
        await call('WebDriver:SetTimeouts', {script: 300000});
        await call('WebDriver:Navigate', {url: 'file://' + process.env.PAGE});
        const {value} = await call('WebDriver:ExecuteAsyncScript', {script: SCRIPT, args: []});
        same(value.error, undefined, 'error');
        compareAll(value.figures, report('check', put('firefox.json', value.text)), 'Firefox');
        same(value.cells, 30, 'cells of two eyes, five zones, three layers');
    } finally {
        const ended = new Promise(done => firefox.on('exit', done));
        firefox.kill();
        await ended;
    }
});
