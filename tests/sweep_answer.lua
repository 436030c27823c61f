local path = os.tmpname()
os.remove(path)
local input = load("return {" .. (arg[2] or "") .. "}")()
input.store, input.script, input.formats = path, arg[1] .. "/job.sline", true
local got, why = in_host(arg[1], "tests/sweep_answer_run.lua", input)
os.remove(path)
if not got then print(why.code, why.text, why.help) return 1 end
print(got.text)
for _, x in ipairs{"json","html","markdown","csv"} do local h=io.open("/tmp/brief9/out."..x,"w") h:write(got[x]) h:close() end
return 0
