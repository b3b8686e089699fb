package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.testing.FileLayer;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Whichever call on the monitor's disk fails, its store stays sound and takes all in the end. */
@Tag("long")
@Execution(ExecutionMode.CONCURRENT)
final class FailingDiskStoreIT {

    @TempDir Path temporary;

    @Test
    void whicheverCallFailsTheStoreIsSoundAndEachRecordIsThereOnce()
            throws IOException, InterruptedException {
        FileLayer layer = FileLayer.compile(temporary);
        Path folder = Files.createDirectory(temporary.resolve("disk"));
        Process process =
                layer.java(
                                folder,
                                FailingDiskStoreProcess.class,
                                List.of(folder.toRealPath().toString()))
                        .start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        System.out.print(said);
        assertEquals(0, process.waitFor(), said);
        assertEquals(3, said.lines().count(), said);
    }
}
