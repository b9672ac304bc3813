// The main job in Debian's Firefox, on a window as small as a phone's: node --test site/test/page-firefox.test.mjs
import { startFirefox } from './firefox.mjs';
import { playIn } from './mainjob.mjs';

playIn(startFirefox, { width: 360, height: 740 });
