/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs the claims of all topics on one browser. */
import {run, start, stop} from './harness.mjs';
import './teach.mjs';
import './consult.mjs';
import './files.mjs';
import './access.mjs';
import './words.mjs';
import './firefox.mjs';

await start();
await run();
await stop();
