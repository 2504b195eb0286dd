"""One whole command for every verb and question, each with many of its options, all of them invented."""

import argparse
from collections.abc import Iterator

from fluewright.cli.main import VERBS, parser_of

GAS = "--fuel natural-gas"

COMMANDS = (
    f"flue {GAS} --o2 5% --co2 9% --co 50ppm --no 40ppm --no2 2ppm --outdoor-o2 20.9% --flue 400F --air 70F"
    " --altitude 900ft --humidity 50% --jacket 1% --output 24kW --reference-o2 3% --burner premix",
    f"flue {GAS} --o2 5% --co 50ppm --flue 130F --air 70F --barometer 986hPa --trap 50F --condensate 90g/kWh"
    " --condensing",
    "fuel show wood-logs --moisture 20% --reference 15/15",
    "fuel show natural-gas --units us --working",
    "fuel show --composition CH4=95,N2=5 --by volume",
    "diagnose --class oil-burner --read o2=2.8% co=400ppm flue=520F air=68F --plate oil_pressure=140psi",
    "rules list --jurisdiction US-MN --date 2016-11-25 --class natural-draft-boiler --fuel natural-gas --output 24kW"
    " --burner 'natural draft' --quantity co_air_free",
    "rules show de-1bimschv-loss-25",
    "rules decidable --jurisdiction DE --instrument statutory --quantity nox --limit 9ppm --reference-o2 3% --oxygen 5%"
    " --units si --fuel natural-gas --output 24kW --class condensing-boiler --burner premix --date 2026-11-25",
    "fuel list",
    "appliance show natural-draft-boiler",
    "appliance points --quantity excess_air --point 'above hood'",
    "room air --symptoms no --alarm silent --alarm-standard 'UL 2034' --alarm-tested yes --entry 12ppm --outdoor 0ppm"
    " --worn 3ppm --readings '10:05 4 ppm; 10:20 12 ppm' --where dwelling",
    "room mean --readings '10:05 4 ppm; 10:20 12 ppm' --zero outdoors",
    "room rise --from 1ppm --to 14ppm --over 30min --volume 2400ft3 --air-changes 0.5/h --outdoor 0ppm",
    "room decay --from 48ppm --to 20ppm --over 40min --outdoor 1ppm",
    "room unvented --kind oven --co 100ppm --o2 17% --before 1ppm --after 4ppm --moment 'at temperature'",
    "room combustion-air --natural 120kBtu/h --fan-assisted 40kBtu/h --volume 4800ft3 --joined-volume 900ft3"
    " --air-changes 0.35/h --pressure 4Pa --outdoors 100in2 --upright-duct 60in2 --indoors 120in2 --grille metal"
    " --exhaust 200cfm",
    "room exposure --over 90min --activity light --co 70ppm --start 0.8%",
    "room exposure --over 90min --activity light --sample 12% --since 10min --breathing air",
    "oil nozzle '0.85 60B 140psi' --removed '0.75 80A' --plate-nozzle '0.85 60B' --pressure 140psi --held 110psi"
    " --measured 0.95gph --oil-temperature 60F --plate 140kBtu/h",
    "oil line --lift 6ft --run 30ft --bore 0.31in --pipes one --flow 0.85gph --vacuum 5inHg --pressure 100psi"
    " --held 80psi --oil-temperature 40F",
    "oil smoke 1 1 2 --head retention --built 2001 --output 20kW --since-lit 8min --transmission 80% --reflectance 90%"
    " --burner 'oil pressure jet' --jurisdiction DE",
    "oil start --lit-after 2s --lock-out 14s --lock-out-plate 15s --over-fire-oxygen 4% --breech-oxygen 5%"
    " --over-fire-draft -0.01inwc --breech-draft -0.04inwc",
    "oil tank --oil-temperature 75F --coldest 10F --warmest 80F --oxygen 5%",
    "supply pressure --standing 7.9inwc --this-on 6.8inwc --everything-on 6.5inwc --shut-off 7.8inwc"
    " --meter-standing 8inwc --meter-this-on 7.5inwc --meter-everything-on 7inwc --set 7inwc --least 5inwc"
    f" --most 10.5inwc --dwelling 'single dwelling' {GAS}",
    "supply tightness --start 7.9inwc --end 7.88inwc --after 10min --settled 10min --step 0.01inwc"
    " --temperature-start 60F --temperature-end 60F --barometer-start 1000hPa --barometer-end 1001hPa --drift 1F"
    " --counted 0ft3 --dial 0.5ft3 --watched 5min --volume 20L --pipes new --appliances off --meter G4"
    f" --line-pressure 7inwc {GAS}",
    f"supply pipe --pipe 'steel 3/4' --length 60ft --fittings '90 elbow=3' --input 120kBtu/h --pressure 7inwc"
    f" --at-appliance 6.5inwc {GAS}",
    f"supply pipe --inside 20mm --length 20m --input 30kW --pressure 20mbar {GAS} --units si",
    f"supply clock {GAS} --dial 2ft3 --turns 2 --time 124s --step 1L --time-step 0.5s --meter-pressure 7inwc"
    " --meter-temperature 55F --factor 1.02 --heating-value 1035Btu/ft3 --heating-by us --heating-when today"
    " --plate 120kBtu/h --others 'water heater off' --manifold 3.5inwc --manifold-plate 3.5inwc --orifice '#42'"
    " --orifices 4 --compensated no --altitude 3000ft --altitude-table '0ft=100%; 4000ft=90%' --base 60F",
    f"supply clock {GAS} --pulse 0.01m3 --pulses 10 --time 100s --plate-net 30kW --plate-at-height 28kW"
    " --heating-value 39.5MJ/m3 --heating-reference 15 --units si",
    f"supply clock {GAS} --from 1234.500m3 --to 1234.576m3 --time 66s",
    f"supply orifice {GAS} --manifold 3.5inwc --orifice '#42' --orifices 3 --input 75kBtu/h --discharge 0.85",
    f"supply derate {GAS} --plate 100kBtu/h --altitude 5280ft --altitude-table '0ft=100%; 6000ft=80%'",
    "supply newgas --fuel g20 --to g21 --swing 2h --air-ratio 1.25",
    f"draft reading {GAS} --draft -0.02inwc --place breech --state 'burner on' --since-lit 6min --outdoors 35F"
    " --baseline '0; -1; 0; 0; -1 Pa' --doubt 0.5Pa",
    f"draft chimney {GAS} --height 25ft --flue 300F --outdoors 35F --oxygen 7% --wind 15mph --wind-coefficient 0.3"
    " --drawn-down 4Pa",
    f"draft flue {GAS} --height 24ft --diameter 6in --wall 'masonry, clay liner' --outdoors 35F --room 66F"
    " --room-pressure -1Pa --fans-pressure -4Pa --appliance 'words=boiler; input=120 kBtu/h; oxygen=7.5 %;"
    " outlet=400 F; height=4.1 ft; joins=6 ft; diameter=6 in; length=5 ft'",
    "draft house --fans-on -4Pa --zone common --fans-off '0; -1; 0; 0; -1 Pa' --fan 200cfm --leakage 1500cfm"
    " --at 50Pa --exponent 0.65 --distance 5m --outdoors 35F --room 68F --low-opening 1ft2 --high-opening 1ft2",
    "draft house --fans-on -4Pa --span=-2..1Pa --over 60s --doubt 0.5Pa --fan unknown --air-changes 5/h"
    " --volume 9000ft3",
    f"draft hood {GAS} --oxygen-before 7% --oxygen-after 12% --carbon-dioxide-before 8% --carbon-dioxide-after 5%"
    " --flue 400F --mixed 276F --room 66F",
    f"cost heat {GAS} --price '1.50 USD/therm' --efficiency 85% --compare-with 95% --pilot 900Btu/h"
    " --standby-loss 1% --load-share 20% --basis gross",
    f"cost heat {GAS} --price '1.00 USD/ccf' --heating-value 1030Btu/ft3 --efficiency 85%",
    f"cost bill {GAS} --before '31 d, 95 therm, 820 hdd' '28 d, 80 therm, 700 hdd' '30 d, 60 therm, 500 hdd'"
    " --after '31 d, 85 therm, 820 hdd' '28 d, 70 therm, 700 hdd' '30 d, 50 therm, 500 hdd' --usual-year '5500 hdd'"
    " --price '1.50 USD/therm'",
    f"cost factors {GAS}",
    "cost duty us-area-tune-up-biennial --day 2026-01-10",
    "delivered air --return-air 68F --supply-air 128F --blower 450W --output 80kBtu/h --plate-rise 40..70F"
    " --supply-static 0.32inwc --return-static -0.28inwc --filter 0.1inwc --coil 0.2inwc --plate-static 0.5inwc"
    " --plate-flow 1000cfm --filter-budget 0.2inwc --coil-budget 0.3inwc --row 0.5inwc=1200cfm 0.7inwc=1000cfm",
    "delivered static --supply-static 0.32inwc --return-static -0.28inwc --filter 0.1inwc --supply-ducts 0.1inwc"
    " --return-ducts 0.1inwc --plate-static 0.5inwc --row 0.5inwc=1200cfm 0.7inwc=1000cfm --tap medium",
    "delivered traverse --point 20Pa 21Pa 22Pa 23Pa --side 1ft --other-side 2ft --return-air 68F --supply-air 128F",
    "delivered traverse --point 20Pa 21Pa 22Pa 23Pa --diameter 1ft --return-air 68F --supply-air 128F",
    "delivered water --return 140F --supply 160F --flow 9gpm --glycol 30% --liquid 'propylene glycol'"
    " --output 94kBtu/h",
    "delivered cycling --on 12min --off 28min --input 120kBtu/h --pilot 900Btu/h --output 94kBtu/h"
    " --idle-loss 1.5kBtu/h",
    f"delivered adds-up {GAS} --o2 5% --co2 9% --co 50ppm --flue 400F --air 70F --input 100kBtu/h"
    " --second-input 102kBtu/h --output 80kBtu/h",
    "tune curve 6%=14ppm 5%=12ppm 4.5%=13ppm 4%=14ppm 3.5%=15..18ppm 3%=40ppm 2.7%='>400ppm'"
    f" --up 3%=30ppm --up 4%=12ppm --rate 100% {GAS}",
    f"tune curve 6%=0 5%='0;1;0' 4.5%=1 4%=1 3.5%=3 --smoke {GAS}",
    f"tune margin --mechanism fan {GAS} --o2 4% --air 20F --outdoors 20F --hot-air 95F --hot-outdoors 95F --cold-air 0F"
    " --cold-outdoors 0F --barometer-low 980hPa --barometer-high 1040hPa --network published --least 2% --play 0.3%"
    " --burner 'power gas burner' --other-gas 'methane 80 + hydrogen 20'",
    f"tune margin --mechanism 'natural draft' {GAS} --o2 7% --air 68F --outdoors 20F --hot-air 75F --hot-outdoors 70F"
    " --chimney 250F --wobbe-low -5% --wobbe-high 5%",
    "tune margin --mechanism 'oil outdoors' --fuel oil-no-2 --o2 5% --air 68F --oil 75F --cold-air 65F --cold-oil 10F"
    " --hot-air 85F --hot-oil 90F",
    f"tune step --lever 'air shutter' {GAS} --o2 7.5% --co 20ppm --stack 420F --air 70F --target 4.5% --least 2.5%"
    " --water 160F --over-fire-oxygen 7% --breech-oxygen 7.2% --input-share 102% --class power-burner",
    f"tune step --lever 'gas pressure' {GAS} --o2 3% --gas-pressure 3.5inwc --target 3.5..4.5% --burner premix",
    "tune step --lever 'draft damper' --fuel oil-no-2 --o2 8% --papers '1;1;2' --draft -0.04inwc --target 5% --sooty",
    "tune set CURVES --before CURVES",
    "tune permit PERMIT --altitude 900ft",
    "trace TRACE --fuel natural-gas --air 70F --step 1min --response 60s --output 24kW --zone UTC --air-column air",
    "rules list --jurisdiction US-MN --date 2026-11-25 --class natural-draft-boiler --fuel natural-gas --output 24kW",
    "rules show us-mn-flue-co",
    "rules decidable --jurisdiction DE --date 2026-11-25 --fuel oil-no-2 --output 24kW --instrument statutory",
    "checks",
    "completion bash",
)  # fmt: skip
"""TRACE stands for a recorded trace, CURVES for a table of curves, PERMIT for a permit run."""

STRANGE = (
    "", "0", "-1", "-1e30", "1e30", "1e-30", "nan", "inf", "rising", "0 %", "-5 %", "300 %", "0 Pa", "-400 F", "5000 F",
    "9999-12-31", "0001-01-01", "5 spoons", "25:99", "1/0", "0..0", ">0", "<0", "=", ";", "a=b", "\x00", "½", "٣",
    "0 s", "0 m", "0 ft3", "1e9 W", "0 W", "99999999999999999999", "x" * 300,
)  # fmt: skip
"""Values that somebody, or something, may type anywhere."""


def questions() -> Iterator[tuple[str, argparse.ArgumentParser]]:
    """Every verb and question by name, with its parser."""
    for verb in VERBS:
        parser = parser_of(verb)
        inner = [action for action in parser._actions if isinstance(action, argparse._SubParsersAction)]
        if inner:
            for name, one in inner[0].choices.items():
                yield f"{verb} {name}", one
        else:
            yield verb, parser
