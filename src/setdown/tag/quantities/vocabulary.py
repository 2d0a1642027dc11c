"""Word classes of the quantity patterns (``@name`` in a pattern).

A class lists what many instructors say in one place of a phrase, with the captions' usual mis-hearings of it. The
lists are common practice in teaching classes, no source.
"""

from __future__ import annotations

from setdown.tag.number_words import word_set

CLASSES: dict[str, frozenset[str]] = {
    # what is counted; 'wraps' and 'raps' are what captions make of reps
    "reps": word_set("reps rep repetitions repetition wraps raps"),
    "good": word_set(
        "good nice slow little big small wee tiny full clean controlled perfect quality easy heavy light proper "
        "practice quick strong solid steady beautiful deep lovely long fast sharp total whole lazy gentle smooth even "
        "honest single great clear measured tidy super giant full-range"
    ),
    "those": word_set("those these them 'em em it each"),
    "them": word_set("them those these 'em em"),
    "each": word_set("each every per either"),
    "side": word_set(
        "side sides arm arms leg legs foot feet knee knees hip hips shoulder ankle way direction directions one wrist "
        "elbow cheek glute thigh calf hamstring"
    ),
    "lr": word_set("left right"),
    "lr2": word_set("left right other second"),
    "way": word_set("way side direction leg arm"),
    "end": word_set("side end sides ends sleeve"),
    "we": word_set("we i you"),
    "will": word_set("we'll i'll you'll let's i'd"),
    "my": word_set("my your the our his her those these some"),
    "do": word_set("do have get take try make aim complete"),
    "about": word_set("about around roughly nearly almost maybe"),
    "only": word_set("about around roughly nearly almost maybe only just"),
    "it": word_set("it that this them me here there still"),
    "till": word_set("till til until 'til"),
    "be": word_set("is are was were"),
    "got": word_set("got have had"),
    "that": word_set("that's thats"),
    "then": word_set("and then"),
    # heads of movement names as they stand behind a number: 'ten squats', 'twelve bent over rows'
    "moves": word_set(
        "squats lunges rows presses curls raises crunches burpees swings bridges jacks dips deadlifts deads rdls "
        "thrusters ups push-ups pushups press-ups pressups pull-ups pullups chin-ups chinups sit-ups situps step-ups "
        "stepups get-ups getups clamshells clams kickbacks flies flyes flys pullovers extensions rotations twists "
        "climbers circles mornings hinges planks inchworms walkouts shrugs snatches cleans jerks slams taps touches "
        "kicks punches jabs hooks uppercuts crosses jumps hops skaters bugs supermans supermen thrusts slides squeezes "
        "rolls openers pull-aparts pullaparts aparts pass-throughs throughs dislocates pendulums lifts butts v-ups "
        "windmills halos pulses bends folds tucks hydrants donkeys rollouts roll-downs cows tilts scissors teasers "
        "nods marches slaps"
    ),
    # the same in the singular, as they stand before a number: 'bent over row, ten'
    "move1": word_set(
        "squat lunge row press curl raise crunch burpee swing bridge dip deadlift rdl thruster push-up pushup press-up "
        "pull-up pullup chin-up sit-up situp step-up clamshell kickback fly flye pullover extension rotation twist "
        "climber circle hinge inchworm walkout shrug snatch clean jerk slam jump thrust march jack"
    ),
    # time
    "hold": word_set(
        "hold holding stay staying hang hanging stretch stretching breathe plank planking balance freeze pause sit"
    ),
    "second": word_set("second seconds secs sec s"),
    "unit": word_set("second seconds secs sec s minute minutes mins min"),
    "minute": word_set("minute minutes mins min"),
    "work": word_set("on work go working moving"),
    "off": word_set("off rest break breather breathers recovery rests resting recover"),
    "change": word_set(
        "rest recover breathe catch get change swap set drink grab sort find move reset switch shake walk wipe towel "
        "transition lie"
    ),
    "drink": word_set("drink sip breath water swig breather break rest"),
    "lesson": word_set(
        "class workout session video warm cool abs core block routine circuit practice flow lesson programme program"
    ),
    "long_time": word_set("hours hour day days week weeks month months year years night nights fortnight fortnights"),
    # without march and may, which are also verbs
    "month": word_set("january february april june july august september october november december"),
    # weights
    "lb": word_set("pounds pound lbs lb pounders pounder"),
    "kg": word_set("kilos kilo kgs kg kilograms kilogram kilogrammes"),
    "plates": word_set("plate plates quarter quarters dime dimes nickel nickels"),
    "bell": word_set(
        "dumbbell dumbbells dumb-bell dumb-bells db dbs bell bells kettlebell kettlebells kb weight weights plate "
        "plates ball sandbag handweight handweights"
    ),
    "bell1": word_set("dumbbell dumb-bell db bell kettlebell kb"),
    "weights": word_set("weight weights dumbbells dumbbell bells bell load kettlebell pair"),
    "take": word_set(
        "grab grabbing take taking get got have having hold holding use using pick picked grabbed lift keep keeping "
        "bring bringing need want swap swapping trade trading choose found find fetch carry"
    ),
    "touch": word_set("little bit touch tad slightly smidge fraction shade notch size lot"),
    # sets and rounds
    "sets": word_set("sets set"),
    "rounds": word_set("rounds laps circuits cycles passes trips lots goes turns run-throughs"),
    "round1": word_set("round lap circuit cycle lot go trip pass run-through spin go-round"),
    "batches": word_set("batches bouts blocks helpings bunches doses"),
    "through": word_set("through round around"),
    # what else is counted
    "thing": word_set(
        "exercises exercise moves movement movements lifts stations stretches poses drills positions combos"
    ),
    "thing1": word_set(
        "one exercise move movement drill pose stretch station lift position thing trio pair superset group block "
        "circuit combo half part couple bit"
    ),
    "body": word_set(
        "hands hand feet foot legs leg arms arm knees knee elbows elbow sides side fingers toes eyes shoulders hips"
    ),
    "people": word_set(
        "people kids children dogs cats friends guys folks ladies women men blokes students clients members"
    ),
    "dollar": word_set("dollars dollar bucks buck quid pence euros euro cents pounds-sterling fiver rand pesos rupees"),
    "length": word_set(
        "metres metre meters meter feet inches inch miles mile kilometres kilometers km yards yard centimetres "
        "centimeters cm k blocks floors streets"
    ),
    "amount": word_set(
        "grams gram g ounces oz litres liters litre ml calories cups mugs coffees beers cans bottles tins biscuits "
        "cookies slices spoons eggs pieces bits"
    ),
    "goods": word_set(
        "dogs cats kids children coffees beers songs clients neighbours neighbors brothers sisters sons daughters "
        "grandkids horses chickens cars emails messages towels mats chairs straps bands cones plates notches knuckles "
        "words bags"
    ),
    "talked": word_set(
        "things thing questions question words word notes tips rules reasons options choices jobs cues parts"
    ),
    "pronoun": word_set(
        "this that other another which each every no any the next someone good big little right wee tricky hard easy "
        "tough nasty favourite favorite only heavy light same new bad fun cheeky"
    ),
}

#: Function words and words of structure: never what ``_`` stands for.
CLOSED = word_set(
    "a an the of and then or but to in on at for from with more left last first each every per both either is are was "
    "be i you we he she it they that this these those if so because until till no not go off out up down now here "
    "there seconds second minute minutes reps rounds round sets set times time pounds kilos kg lb percent degrees "
    "years year your my our his her their what when where who how i'm we're you're it's that's let's don't okay ok "
    "right all just get got do have by one ones weight weights"
)
