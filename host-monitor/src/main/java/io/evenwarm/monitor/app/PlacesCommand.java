package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.SurveyLayout;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm places}: where to put the probes of a survey. */
@Command(
        name = "places",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Says where to put the probes of a survey of evenness in a cabinet of that size,"
                        + " after IEC 60068-3-5 and DIN 12880.")
final class PlacesCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Parameters(index = "0", paramLabel = "WIDTH", description = "inside, in mm")
    private double widthMillimetres;

    @Parameters(index = "1", paramLabel = "DEPTH", description = "from the door to the back, in mm")
    private double depthMillimetres;

    @Parameters(index = "2", paramLabel = "HEIGHT", description = "in mm")
    private double heightMillimetres;

    @Option(names = "--all", description = "27 places in place of 9")
    private boolean all;

    @Override
    public Integer call() {
        Output output = Parents.of(evenwarm).output();
        SurveyLayout layout;
        try {
            layout = SurveyLayout.of(widthMillimetres, depthMillimetres, heightMillimetres, all);
        } catch (IllegalArgumentException e) {
            output.err().println(e.getMessage());
            return Evenwarm.BAD_INPUT;
        }
        output.out()
                .printf(
                        Locale.ROOT,
                        "%.0f l, %d places; mm from the left wall, the door, the floor%n",
                        layout.litres(),
                        layout.points().size());
        for (SurveyLayout.Place place : layout.points()) {
            output.out()
                    .printf(
                            Locale.ROOT,
                            "%-20s %5.0f %5.0f %5.0f%n",
                            place.label(),
                            place.fromLeftMillimetres(),
                            place.fromDoorMillimetres(),
                            place.fromFloorMillimetres());
        }
        if (layout.isAboveNinePoints() && !all) {
            output.out()
                    .println("DIN 12880 asks for 27 places above 50 l: evenwarm places … --all");
        }
        return Evenwarm.OK;
    }
}
