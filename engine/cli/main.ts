process.stderr.write("gylebook: no commands yet.\n");
process.exitCode = 2;
