explain examples/egg-farm/job.sline footing.deep.hole_depth --set footing.deep.hole_depth=36in
