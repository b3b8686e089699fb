package io.evenwarm.agent.durable;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Optional;

/** The real files, of which the n-th change fails, half done where that can be. */
final class FailingFiles implements SmallFiles {

    private final SmallFiles real = SmallFiles.real();
    private int untilFailure;

    /**
     * @param failingChange 1 for the first change, 0 for none
     */
    FailingFiles(int failingChange) {
        untilFailure = failingChange;
    }

    @Override
    public Optional<byte[]> read(Path file) throws IOException {
        return real.read(file);
    }

    @Override
    public void writeAndSync(Path file, byte[] content) throws IOException {
        if (isFailing()) {
            Files.write(file, Arrays.copyOf(content, content.length / 2));
            throw new IOException("No space left on device");
        }
        real.writeAndSync(file, content);
    }

    @Override
    public void rename(Path from, Path to) throws IOException {
        if (isFailing()) {
            throw new IOException("Input/output error");
        }
        real.rename(from, to);
    }

    @Override
    public void syncFolder(Path folder) throws IOException {
        if (isFailing()) {
            throw new IOException("Input/output error");
        }
        real.syncFolder(folder);
    }

    private boolean isFailing() {
        return --untilFailure == 0;
    }
}
