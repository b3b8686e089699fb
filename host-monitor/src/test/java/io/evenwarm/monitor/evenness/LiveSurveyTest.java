package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.history.CabinetCurves;
import java.time.Duration;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** A survey that is looked at each ten minutes while its readings come in. */
final class LiveSurveyTest {

    private static final SurveyQuestion QUESTION =
            SurveyQuestion.usual(
                    ProbeRecord.EMPTY,
                    SurveyLoad.Known.NOTHING,
                    Stands.NONE,
                    InventedCabinet.WORDING);

    private static LiveSurvey survey(double settledHours) {
        return new LiveSurvey(
                QUESTION,
                InventedCabinet.BEGIN,
                Duration.ofSeconds(Math.round(settledHours * 3600)));
    }

    private static LiveSurvey.Progress look(LiveSurvey survey, CabinetCurves whole, double minute) {
        return survey.look(span -> InventedCabinet.of(whole, span), InventedCabinet.at(minute));
    }

    private static CabinetCurves warming() {
        return new InventedCabinet(3, InventedCabinet.nineMeans(3))
                .hours(8)
                .warmingUpFrom(6)
                .curves();
    }

    @Test
    void itSaysHowManyPointsHaveSettledAndWhyNotAll() {
        CabinetCurves whole = warming();
        LiveSurvey survey = survey(2);
        LiveSurvey.Progress first = look(survey, whole, 5);
        assertEquals(0, first.steadyPoints());
        assertEquals(9, first.points());
        assertEquals(
                "0 of 9 points settled; 2 h yet once all are. Half an hour of readings is needed"
                        + " before anything can be said.",
                first.words());
        LiveSurvey.Progress warming = look(survey, whole, 60);
        assertFalse(warming.isDone());
        assertTrue(warming.words().contains("The cabinet never settled"), warming.words());
        assertEquals(Duration.ZERO, warming.settled());
    }

    @Test
    void itEndsByItselfOnceItHasBeenSettledForLongEnough() {
        CabinetCurves whole = warming();
        LiveSurvey survey = survey(2);
        Optional<LiveSurvey.Progress> done = Optional.empty();
        boolean hasSaidHowLongYet = false;
        for (double minute = 10; minute <= 480 && done.isEmpty(); minute += 10) {
            LiveSurvey.Progress progress = look(survey, whole, minute);
            hasSaidHowLongYet |=
                    progress.words().startsWith("All 9 points settled since ")
                            && progress.words().endsWith(" yet.");
            done = Optional.of(progress).filter(LiveSurvey.Progress::isDone);
        }
        LiveSurvey.Progress end = done.orElseThrow();
        assertTrue(hasSaidHowLongYet);
        assertEquals(InventedCabinet.BEGIN, end.begin());
        assertTrue(end.settled().compareTo(Duration.ofHours(2)) >= 0, end.words());
        boolean isSurveyed = end.report().survey().fold(surveyed -> true, withheld -> false);
        assertTrue(isSurveyed, end.words());
    }

    @Test
    void aDoorInTheMiddleIsNamedAndTheSurveyBeginsAnewAfterIt() {
        CabinetCurves whole =
                new InventedCabinet(4, InventedCabinet.nineMeans(4)).hours(8).doorAt(120).curves();
        LiveSurvey survey = survey(4);
        assertTrue(look(survey, whole, 110).words().startsWith("All 9 points settled"));
        LiveSurvey.Progress opened = look(survey, whole, 130);
        assertTrue(opened.words().contains("as it does when the door is opened"), opened.words());
        assertTrue(opened.words().endsWith("The survey begins anew from now on."), opened.words());
        LiveSurvey.Progress end = look(survey, whole, 480);
        assertEquals(InventedCabinet.at(130), end.begin());
        assertTrue(end.isDone(), end.words());
    }

    @Test
    void whatIsShorterThanASurveyCanBeIsRefused() {
        assertThrows(IllegalArgumentException.class, () -> survey(0.4));
        assertThrows(IllegalArgumentException.class, () -> survey(49));
    }
}
