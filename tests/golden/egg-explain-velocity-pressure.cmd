explain examples/egg-farm/job.sline rack.east.velocity_pressure
