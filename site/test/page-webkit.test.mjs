// The main job in Debian's WebKit, on a window as small as a phone's: node --test site/test/page-webkit.test.mjs
import { playIn } from './mainjob.mjs';
import { startWebKit } from './webkit.mjs';

playIn(startWebKit, { width: 360, height: 740 });
