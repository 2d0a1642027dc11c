"""Word classes of the quantity patterns (``@name`` in a pattern).

A class lists what many instructors say in one place of a phrase, with the captions' usual mis-hearings of it. Lists
are common practice in teaching classes, no source, unless a line says otherwise.
"""

from __future__ import annotations


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


CLASSES: dict[str, frozenset[str]] = {
    # what is counted; 'wraps' and 'raps' are what captions make of reps
    "reps": _words("reps rep repetitions repetition wraps raps"),
    "good": _words(
        "good nice slow little big small wee tiny full clean controlled perfect quality easy heavy light proper practice "
        "quick strong solid steady beautiful deep lovely long fast sharp total whole lazy gentle smooth even honest single "
        "great clear measured tidy super full-range"
    ),
    "those": _words("those these them 'em em it each"),
    "each": _words("each every per either both"),
    "side": _words(
        "side sides arm arms leg legs foot feet knee knees hip hips shoulder ankle way direction directions one wrist "
        "elbow cheek glute thigh calf hamstring"
    ),
    "lr": _words("left right"),
    "hand": _words("hand hands fist"),
    "end": _words("side end sides ends sleeve"),
    # heads of movement names as they stand behind a number: 'ten squats', 'twelve bent over rows'
    "moves": _words(
        "squats lunges rows presses curls raises crunches burpees swings bridges jacks dips deadlifts deads rdls thrusters "
        "ups push-ups pushups press-ups pressups pull-ups pullups chin-ups chinups sit-ups situps step-ups stepups "
        "get-ups getups clamshells clams kickbacks flies flyes flys pullovers extensions rotations twists climbers circles "
        "mornings hinges planks inchworms walkouts shrugs snatches cleans jerks slams taps touches kicks punches jabs hooks "
        "uppercuts crosses jumps hops skaters bugs supermans supermen thrusts slides squeezes rolls openers pull-aparts "
        "pullaparts aparts pass-throughs throughs dislocates pendulums lifts butts v-ups windmills halos pulses bends folds "
        "tucks hydrants donkeys rollouts roll-downs cows tilts scissors teasers nods marches slaps raise"
    )
    - {"raise"},
    # the same in the singular, as they stand before a number: 'bent over row, ten'
    "move1": _words(
        "squat lunge row press curl raise crunch burpee swing bridge dip deadlift rdl thruster push-up pushup press-up "
        "pull-up pullup chin-up sit-up situp step-up clamshell kickback fly flye pullover extension rotation twist climber "
        "circle hinge inchworm walkout shrug snatch clean jerk slam jump thrust march jack swings"
    )
    - {"swings"},
    "hold": _words("hold holding stay staying hang hanging stretch stretching breathe plank planking balance freeze pause sit"),
    "second": _words("second seconds secs sec s"),
    "minute": _words("minute minutes mins min"),
    "period": _words("minute minutes mins hour hours"),
    "lb": _words("pounds pound lbs lb pounders pounder"),
    "kg": _words("kilos kilo kgs kg kilograms kilogram kilogrammes"),
    "plates": _words("plate plates quarter quarters dime dimes nickel nickels"),
    "bell": _words(
        "dumbbell dumbbells dumb-bell dumb-bells db dbs bell bells kettlebell kettlebells kb weight weights plate plates "
        "ball sandbag handweight handweights"
    ),
    "sets": _words("sets set"),
    "rounds": _words(
        "rounds round laps lap circuits circuit times time passes cycles cycle lots goes go trips trip turns turn runs"
    ),
    "round1": _words("round lap circuit cycle lot go trip pass run-through"),
    "my": _words("my your the our his her those these some"),
    "take": _words(
        "grab grabbing take taking get got have having hold holding use using pick picked grabbed lift keep keeping bring "
        "bringing need want swap swapping trade trading choose found find fetch carry"
    ),
    "do": _words("do doing have having get take want need give gimme complete hit perform squeeze knock bang crank make"),
    "will": _words(
        "we'll i'll you'll we're you're i'm let's gonna going we will let lets just go then you can could should"
    ),
    "go": _words("go begin start off"),
    "rest": _words("rest resting break breather recover recovery off"),
    "dollar": _words("dollars dollar bucks buck quid pence euros euro cents pounds-sterling fiver rand pesos rupees"),
    "length": _words(
        "metres metre meters meter feet inches inch miles mile kilometres kilometers km yards yard centimetres "
        "centimeters cm k blocks floors streets"
    ),
    "long_time": _words("hours hour days day weeks week months month years year nights fortnights"),
    "month": _words(
        "january february march april may june july august september october november december"
    ),
    "people": _words("people kids children dogs cats friends guys folks ladies women men blokes students clients members"),
    "thing": _words(
        "exercises exercise moves movements movement drills poses stretches stations lifts positions moves combos things"
    ),
    "thing1": _words(
        "one exercise move movement drill pose stretch station lift position thing trio pair superset group block circuit "
        "combo"
    ),
    "body": _words("hands hand feet foot legs leg arms arm knees knee elbows elbow sides side fingers eyes shoulders hips"),
    "pronoun": _words(
        "this that other another which each every no any the next someone good big little right wee tricky hard easy tough "
        "nasty favourite favorite only everyone heavy light same new bad fun cheeky"
    ),
}

#: Function words and words of structure: never what ``_`` stands for.
CLOSED = _words(
    "a an the of and then or but to in on at for from with more left last first each every per both either is are was "
    "be i you we he she it they that this these those if so because until till no not go off out up down now here there "
    "seconds second minute minutes reps rounds round sets set times time pounds kilos kg lb percent degrees years year "
    "your my our his her their what when where who how i'm we're you're it's that's let's don't okay ok right all just "
    "get got do have by one ones weight weights"
)
