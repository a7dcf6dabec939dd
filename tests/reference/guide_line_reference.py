# Evaluates scipy's Akima1DInterpolator: reads {"cases": [{"at", "value", "ask"}]},
# writes {"answers": [{"value", "slope"}]}.
import json
import sys

from scipy.interpolate import Akima1DInterpolator

with open(sys.argv[1]) as f:
    cases = json.load(f)["cases"]
answers = []
for case in cases:
    line = Akima1DInterpolator(case["at"], case["value"])
    answers.append({"value": line(case["ask"]).tolist(), "slope": line(case["ask"], 1).tolist()})
with open(sys.argv[2], "w") as f:
    json.dump({"answers": answers}, f)
