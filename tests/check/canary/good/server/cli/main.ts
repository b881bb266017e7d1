import { push } from '../../adapters/push/index.ts';
import { simulated } from '../../adapters/simulated/index.ts';
import { listen } from '../http/app.ts';
import { later } from '../sources/supervisor.ts';

await later(() => Promise.resolve(push(simulated().t)));
process.stdout.write(await listen(4747));
