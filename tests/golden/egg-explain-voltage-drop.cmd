explain examples/egg-farm/job.sline "run['array to shed'].voltage_drop"
