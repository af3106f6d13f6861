#!/usr/bin/env node
import { loadProgram } from '../../scripts/lib/program.mjs';

const program = await loadProgram();
if (program === null) process.exitCode = 4;
else await program.main(process.argv);
