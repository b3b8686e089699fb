package io.evenwarm.monitor.app;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** How an answer is given: as lines or as JSON, and as a page to print beside them. */
final class AnswerForm {

    @Option(
            names = "--page",
            paramLabel = "FILE",
            description = "write a page to print (HTML) into this new file")
    private @Nullable Path page;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    /** Whether a page can't be written where it was asked for, which is then said. */
    boolean isRefused(Output output) {
        return page != null && !NewFiles.isNew(page, output.err());
    }

    /**
     * Gives it in the form that was asked for; no other form is made.
     *
     * @throws IOException when the page can't be written
     */
    void give(
            Output output,
            Supplier<String> asPage,
            Supplier<String> asObject,
            Supplier<List<String>> asLines)
            throws IOException {
        if (page != null) {
            NewFiles.write(page, asPage.get());
        }
        PrintStream out = output.out();
        if (asJson) {
            out.println(asObject.get());
        } else {
            asLines.get().forEach(out::println);
        }
    }
}
