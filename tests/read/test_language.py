"""English is told from other languages, and never from odd English."""

from __future__ import annotations

import pytest

from setdown.model.transcript import Transcript
from setdown.read import parse_transcript

# Invented paragraphs of a class.
OTHERS = {
    "es": """
        Hola a todos y bienvenidos a la clase de hoy. Vamos a empezar con unas sentadillas, diez repeticiones, y
        después pasamos a las zancadas con la pierna derecha. Recuerda mantener la espalda recta y respirar. No te
        preocupes si no puedes hacer todas, haz lo que puedas. Tres, dos, uno, y descansa. Ahora cambiamos de lado y
        repetimos lo mismo, me gusta.
    """,
    "fr": """
        Bonjour à tous et bienvenue dans ce cours. On va commencer par des squats, dix répétitions, et ensuite on
        passe aux fentes avec la jambe droite. Pensez à garder le dos droit et à respirer. Si vous ne pouvez pas, ce
        n'est pas grave, faites une pause. Trois, deux, un, et on relâche. On change de côté, six encore, et on tient
        la planche pour finir.
    """,
    "de": """
        Hallo und herzlich willkommen zum Training. Wir fangen mit Kniebeugen an, zehn Wiederholungen, und dann gehen
        wir zu den Ausfallschritten mit dem rechten Bein. Der Rücken bleibt gerade und ihr atmet ruhig weiter. Wenn es
        zu schwer ist, dann nehmt ihr das leichtere Gewicht in die Hand. Drei, zwei, eins, und Pause. Der Arm bleibt
        oben, und noch mal, das war gut.
    """,
    "nl": """
        Hallo allemaal en welkom bij de les van vandaag. We beginnen met tien squats en daarna gaan we naar de
        uitvalspassen met het rechterbeen. Hou de rug recht en blijf rustig ademen. Als het te zwaar is, neem dan een
        lichter gewicht in de hand. Drie, twee, een, en rust. Dan de andere kant, de arm blijft over het hoofd, was
        dat goed, we zijn er op de helft van de set.
    """,
    "pt": """
        Olá a todos e sejam bem-vindos à aula de hoje. Vamos começar com agachamentos, dez repetições, e depois
        passamos para os afundos com a perna direita. Lembra de manter as costas retas e respirar. Se não der para
        fazer tudo, faz o que puder, no seu tempo. Três, dois, um, e descansa. Agora troca de lado e repete com a
        outra perna, me mostra, do começo ao fim, muito bem.
    """,
    "it": """
        Ciao a tutti e benvenuti alla lezione di oggi. Cominciamo con dieci squat e poi passiamo agli affondi con la
        gamba destra. Ricordate di tenere la schiena dritta e di respirare. Se non ce la fate, fate una pausa. Tre,
        due, uno, e riposo.
    """,
    "pl": """
        Cześć wszystkim i witajcie na dzisiejszym treningu. Zaczynamy od dziesięciu przysiadów, a potem przechodzimy
        do wykroków na prawą nogę. Plecy proste i spokojnie oddychamy, do góry i na dół, to jest to.
    """,
    "sv": """
        Hej allihopa och välkomna till dagens pass. Vi börjar med tio knäböj och sedan går vi vidare till utfall med
        höger ben. Håll ryggen rak och andas lugnt. Om det är för tungt så tar du en lättare vikt i handen. Tre, två,
        ett, och vila. Nu byter vi.
    """,
}
ODD = {
    "counting": "one two three four five six seven eight nine ten " * 4,
    "counting in figures": "10 9 8 7 6 5 4 3 2 1 " * 6,
    "shouting": "come on go go push push burpee squat jump higher faster yes yes " * 4,
    "yoga": "adho mukha svanasana inhale urdhva mukha svanasana exhale chaturanga dandasana downward dog hold " * 3,
    "names of movements": "squat press curl row lunge plank press squat curl down up hold rest swing thruster " * 3,
    "capitals": "OKAY EVERYBODY WE ARE GOING TO START WITH TEN OF THOSE GOBLET SQUATS AND THEN YOU REST FOR A MINUTE "
    * 2,
    "short": "hola",
}


def parse(text: str, header: str = "") -> Transcript:
    data = f"WEBVTT\n{header}\n00:01.000 --> 09:00.000\n{' '.join(text.split())}\n"
    return parse_transcript(data.encode(), name="class.vtt")


@pytest.mark.parametrize("name", OTHERS)
def test_other_languages(name: str) -> None:
    """Undetermined, with a notice; the file's own statement is kept."""
    transcript = parse(OTHERS[name])
    assert transcript.language == "und"
    assert [notice.code for notice in transcript.notices] == ["not-english"]
    assert "no sets" in transcript.notices[0].message
    assert parse(OTHERS[name], f"Language: {name}\n").language == name


@pytest.mark.parametrize("name", ODD)
def test_odd_english(name: str) -> None:
    """Counts, shouts, foreign names of poses, or a few words are English until shown otherwise."""
    transcript = parse(ODD[name])
    assert (transcript.language, transcript.notices) == ("en", ())


def test_statements_of_the_file() -> None:
    """English text is English whatever the file says; text that is not, is not; a few words are believed."""
    assert parse(ODD["shouting"], "Language: es\n").language == "en"
    assert parse(ODD["shouting"], "Language: en-AU\n").language == "en"
    assert parse(OTHERS["es"], "Language: en\n").language == "und"
    few = parse("hola a todos", "Language: es-MX\n")
    assert (few.language, [notice.code for notice in few.notices]) == ("es", ["not-english"])
