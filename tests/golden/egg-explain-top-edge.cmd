explain examples/egg-farm/job.sline rack.top_edge
